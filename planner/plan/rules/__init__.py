"""The twelve rules of a plan, read simply: lists are scanned and minutes added, so that each can be checked by eye."""
