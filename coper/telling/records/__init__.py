"""Results as JSON, a file a verb."""
