"""What a reply does to a call and to its record; every face of the chat drives it."""
