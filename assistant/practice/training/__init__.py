"""Practice calls as a trainer sets and judges them."""
