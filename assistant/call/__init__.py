"""The walk: facts and answers in, conversation out. No clock, disk or screen."""
