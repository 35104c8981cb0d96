"""What comes after the figures: the order of the day and the care that follows it. So far: aftercare."""
