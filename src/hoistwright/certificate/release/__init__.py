"""The certificate of release: what it says, its record, its pages, its revisions."""
