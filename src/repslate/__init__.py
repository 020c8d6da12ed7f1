"""repslate: one workout file in, everything published about it out, from the same figures."""
