"""What the dyer can do, without a screen."""
