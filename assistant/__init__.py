"""Coilside: a troubleshooting assistant for the refrigeration circuit of air conditioners and heat pumps."""

__version__ = "0.1.0"
