"""The collection's pages, search, feed and sitemap."""
