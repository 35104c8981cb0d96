"""The operations, one file each (those with an OPERATION), and what several of them share."""
