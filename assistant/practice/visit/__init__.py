"""A visit to a system with something hidden in it: what is there, what can be done, what instruments and eyes find."""
