"""An expansion valve turned by hand, and valve and orifices side by side on one coil."""
