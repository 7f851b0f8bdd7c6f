"""A system to practise on: a split air conditioner that never stood anywhere, worked from the physics of its parts."""
