"""In which order a frame is put together, and what is checked after each tack."""
