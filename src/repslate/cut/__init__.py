"""What the finished film says: markers, times, chapters."""
