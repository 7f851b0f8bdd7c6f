"""The call sheet: one value, and the forms that a person prints or sends."""
