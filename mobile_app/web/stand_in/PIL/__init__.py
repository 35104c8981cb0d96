"""Stands in for Pillow in the browser, where there is none: reportlab imports it, the app never needs it."""
