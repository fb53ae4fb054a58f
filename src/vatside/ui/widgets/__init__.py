"""The few widgets that every screen is made of."""
