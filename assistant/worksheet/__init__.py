"""The worksheet: which worked number needs which readings, the number itself with its doubt, and the work shown."""
