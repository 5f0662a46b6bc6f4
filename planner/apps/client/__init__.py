"""The client's page: a walk through the house, each room as it is planned, a little plainer and a little richer, in
plain words and pictures; what the client would have otherwise, and what comes of it."""
