"""Reading DXF: the only place that knows how a drawing file is laid out."""
