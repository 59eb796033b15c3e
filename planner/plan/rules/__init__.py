"""The thirteen rules of a plan, read simply: lists are scanned and minutes added, to be checked by eye."""
