"""Cards as pages of a document, as text and as data, all made from one layout."""
