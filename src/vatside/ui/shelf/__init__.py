"""The screens of the shelf."""
