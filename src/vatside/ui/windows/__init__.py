"""Windows that ask or tell, above any screen."""
