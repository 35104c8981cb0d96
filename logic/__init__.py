"""Everything the app knows, as plain typed Python: no Flet, no browser, no sockets."""
