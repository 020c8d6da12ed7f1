"""From the tree to frozen models: quantities, prescriptions, the library, the episode."""
