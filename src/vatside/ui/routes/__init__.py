"""The ways from screen to screen."""
