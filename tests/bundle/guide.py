"""The guide as one HTML file: all pages, a list of them at the top, pictures inside, nothing fetched."""

import base64
import re
from html import escape
from pathlib import Path

from markdown_it import MarkdownIt

from planner import __version__
from planner.desktop.model.guide import GuidePage, guide_pages

STYLE = """
body { font: 16px/1.5 system-ui, sans-serif; max-width: 52rem; margin: 2rem auto; padding: 0 1rem; color: #1c2b2e; }
h1 { margin-top: 3rem; border-top: 2px solid #1c2b2e; padding-top: 1rem; } nav h1 { border: 0; margin-top: 0; }
img { max-width: 100%; border: 1px solid #7c8a8c; } code, pre { font-family: ui-monospace, monospace; }
table { border-collapse: collapse; } td, th { border: 1px solid #7c8a8c; padding: 0.2rem 0.6rem; text-align: left; }
pre { background: #eef1f1; padding: 0.8rem; overflow-x: auto; } nav li { margin: 0.2rem 0; }
@media print { h1 { break-before: page; } nav h1 { break-before: avoid; } img { max-height: 18cm; } }
"""


def guide_html() -> str:
    """The whole guide as one HTML text."""
    pages = guide_pages()
    listed = "".join(f'<li><a href="#{_anchor(p.path.name)}">{escape(p.title)}</a></li>' for p in pages)
    told = f"<nav><h1>Slackwater {escape(__version__)}: the guide</h1><ol>{listed}</ol></nav>"
    body = "".join(f'<section id="{_anchor(page.path.name)}">{_rendered(page)}</section>' for page in pages)
    head = f'<meta charset="utf-8"><title>Slackwater: the guide</title><style>{STYLE}</style>'
    return f'<!DOCTYPE html><html lang="en"><head>{head}</head><body>{told}<main>{body}</main></body></html>\n'


def _anchor(name: str) -> str:
    return name.removesuffix(".md")


def _rendered(page: GuidePage) -> str:
    html = MarkdownIt("commonmark", {"html": False}).enable("table").render(page.text)
    html = re.sub(r'href="([\w-]+)\.md"', r'href="#\1"', html)
    return re.sub(r'src="([^"]+)"', lambda found: f'src="{_inside(page.path.parent / found.group(1))}"', html)


def _inside(picture: Path) -> str:
    return "data:image/png;base64," + base64.b64encode(picture.read_bytes()).decode("ascii")
