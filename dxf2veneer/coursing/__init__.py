"""Course lines and what stands in their way."""
