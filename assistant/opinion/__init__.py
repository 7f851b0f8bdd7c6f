"""All readings and observations weighed against all causes, and what to do next to part them."""
