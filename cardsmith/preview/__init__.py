"""The site in a browser on this machine, renewed with every edit."""
