"""Panel by panel: runs laid with pieces, pieces cut from units, and what no plan can do without."""
