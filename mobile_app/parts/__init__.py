"""What the screens share."""
