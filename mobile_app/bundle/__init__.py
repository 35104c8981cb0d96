"""Builds the web app: a static site, made from the installed packages and this project, without a network.

`build(out)` writes it; `is_stale(out)` says whether it must be written again.
"""

from mobile_app.bundle.build import BundleError, Options, build, is_stale

__all__ = ["BundleError", "Options", "build", "is_stale"]
