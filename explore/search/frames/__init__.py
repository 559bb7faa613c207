"""The search for frames and rectangles: their measures, the stamp along the sides, composing, jobs."""
