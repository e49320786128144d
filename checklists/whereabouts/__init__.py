"""Where a missing item could be: what passes through what, and which ways lead where. Lengths in millimetres."""
