"""A practice call as a session over a visit to a simulated system, kept in a record of its own."""
