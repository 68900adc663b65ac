"""Writers: they render a takeoff and compute nothing."""
