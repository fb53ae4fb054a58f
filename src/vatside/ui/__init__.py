"""The full-screen Vatside: it shows values and posts messages, and works nothing out."""
