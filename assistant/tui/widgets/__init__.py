"""The widgets of the chat, one file each."""
