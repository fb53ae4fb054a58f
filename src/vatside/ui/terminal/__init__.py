"""The terminal as it really is: slow, cut in the middle, stopped, gone."""
