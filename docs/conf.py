"""Settings of the documentation: Markdown pages, set by Sphinx."""

project = "friable"
author = "the authors of friable"
extensions = ["myst_parser"]
source_suffix = {".md": "markdown"}
root_doc = "index"
myst_enable_extensions = ["dollarmath", "deflist"]
myst_heading_anchors = 3
html_theme = "furo"
html_title = "friable"
html_static_path: list[str] = []
exclude_patterns = ["_build"]
