"""The commands of `coilside`, one module for each group."""
