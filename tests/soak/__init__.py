"""Long runs against damage, kills and odd input: started by hand, printed, never asserted. A part of each is a test."""
