"""One folder a topic: views, forms, urls, templates."""
