"""Plan an indigo vat, stand by it, and get the same blue again."""
