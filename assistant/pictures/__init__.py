"""Pictures of a call: each a frozen value, computed first, then said in words or drawn in characters or as SVG."""
