"""Paper: sheets of marks in mm, pages, and the two writers."""
