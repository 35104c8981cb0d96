"""The app around the logic: screens, device, bundle, console command."""
