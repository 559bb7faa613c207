"""Pages in millimetres, text, layers, tiles. Knows nothing of lace."""
