"""What she does to the shelf."""
