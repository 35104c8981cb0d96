"""One file for each screen: a function from the App to controls."""
