"""Icons, fonts with their licences, tables of numbers with their sources, and the demo."""
