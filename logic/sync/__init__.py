"""Two phones and an office: how a book's changes meet those of others, and nothing is lost on the way.

`registers` joins states, `wire` gives messages their form, `hub_rules` is what the office does with them,
`ledger` keeps the phone's side in the book's own journal, `engine` talks to the office, `blobs` carries
photos and papers.
"""
