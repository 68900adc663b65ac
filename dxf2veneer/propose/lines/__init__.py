"""Lines of a view: joined where they are in one line, cut where they meet, the faces between
them."""
