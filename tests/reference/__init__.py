"""Outside values, and the table of how ours compare with them."""
