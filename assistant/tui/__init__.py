"""The Textual chat: one face over a session. Nothing outside this folder imports Textual."""
