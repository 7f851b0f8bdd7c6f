"""How often the trees find the fault of simulated calls."""
