"""The screens of the chat."""
