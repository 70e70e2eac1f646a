"""What people look at: footnotes, previews, sheets and collections to browse."""
