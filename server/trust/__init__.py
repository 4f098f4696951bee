"""Who may come in: codes, tokens, certificates and names on the home network. No web, no SQL."""
