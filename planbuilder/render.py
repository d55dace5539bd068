"""PlanView to HTML to PDF. The only user of Jinja2 and WeasyPrint, and the only writer of files."""

from __future__ import annotations

import functools
import os
import tempfile
from datetime import UTC, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote, urlsplit

import jinja2

from planbuilder import __version__
from planbuilder.archive import VARIANT, write_archive
from planbuilder.errors import PlanbuilderError
from planbuilder.fixed_texts import check_page, check_paper
from planbuilder.results import results_json
from planbuilder.sandbox import file_of, rendered, sandbox
from planbuilder.screen import screen_page
from planbuilder.theme import Layout, Look, load_layout
from planbuilder.view.model import PlanView
from planbuilder.view.pages import view_of

if TYPE_CHECKING:
    from planbuilder.plan import Plan

PHOTO_DPI = 150


def written(
    plan: Plan, target: Path, *, kind: str, paper: str | None, templates: Path | None = None
) -> None:
    """Write *plan* to *target* as pdf, html or json, whole or not at all.

    Raises MissingLibraryError when a PDF is asked for without Pango, and PlanbuilderError when
    the file cannot be written or the folder *templates* is no layout.
    """
    layout = load_layout(templates, templates_folder()) if templates else None
    match kind:
        case "json":
            data = results_json(plan).encode()
        case "html":
            data = to_screen(view_of(plan, paper), layout).encode()
        case _:
            data = to_pdf(plan, paper, layout)
    _replace(target, data)


def _replace(target: Path, data: bytes) -> None:
    """Write beside, then rename: a build that dies leaves the old file, or none."""
    try:
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            Path(name).chmod(0o644)
            Path(name).replace(target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        message = f"{target}: cannot be written ({error.strerror})"
        raise PlanbuilderError(message) from error


@functools.cache
def templates_folder() -> Path:
    """Where the templates are: in the package when installed, beside it in a work tree."""
    package = Path(__file__).parent
    inside = package / "templates"
    return inside if inside.is_dir() else package.parent / "templates"


@functools.cache
def _environment() -> jinja2.Environment:
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=jinja2.FileSystemBytecodeCache(),
    )
    environment.globals["theme"] = Look()
    return environment


def to_html(view: PlanView, layout: Layout | None = None) -> str:
    """The plan as the HTML page that paper and screen are made from."""
    if layout is None:
        return _environment().get_template("plan.html").render(plan=view)
    page = rendered(sandbox(layout, templates_folder()), layout, plan=view)
    check_page(page, view, layout)
    return page


def to_screen(view: PlanView, layout: Layout | None = None) -> str:
    """The plan as one self-contained file for phone and desk."""
    roots = (layout.folder, templates_folder()) if layout else (templates_folder(),)
    page = screen_page(to_html(view, layout), lambda name: file_of(name, *roots))
    return page.replace("</head>", f"<style>{_fixed_style()}</style>\n</head>", 1)


def _fixed_style() -> str:
    return (templates_folder() / "fixed.css").read_text(encoding="utf-8")


def to_pdf(plan: Plan, paper: str | None = None, layout: Layout | None = None) -> bytes:
    """The plan as a tagged PDF that lasts, with fields, site file and results inside.

    The same plan gives the same bytes: every date in the file is the day of the check.
    Raises MissingLibraryError when Pango is not there, and PlanbuilderError when a typeface or
    style that ships with the program is gone: another typeface would move every line.
    """
    from planbuilder.pango import load_weasyprint  # noqa: PLC0415 - 200 ms that only a PDF pays

    weasyprint = load_weasyprint()
    try:
        return _pdf(weasyprint, plan, paper, layout)
    except weasyprint.urls.FatalURLFetchingError as error:  # no Exception: nothing else stops it
        whose = (
            f"{layout.folder}: a file that the layout names" if layout else "a file of planbuilder"
        )
        remedy = "" if layout else "; install it again"
        message = f"{whose} cannot be read{remedy} ({error})"
        raise PlanbuilderError(message) from error


def _pdf(weasyprint: Any, plan: Plan, paper: str | None, layout: Layout | None) -> bytes:  # noqa: ANN401 - no types
    view = view_of(plan, paper)
    moment = datetime.combine(plan.on, time(), UTC)
    folder = layout.folder if layout else None
    fonts, *sheets = _style(weasyprint, folder)
    options: dict[str, Any] = {"pdf_variant": VARIANT, "dpi": PHOTO_DPI}
    page = weasyprint.HTML(
        string=to_html(view, layout),
        base_url=templates_folder().as_uri() + "/",
        url_fetcher=_local_fetcher(weasyprint, folder),
    )
    document = page.render(stylesheets=sheets, font_config=fonts, **options)
    if layout:
        check_paper(document, view, layout)
        document.metadata.keywords = [f"layout {layout.look.name} {layout.fingerprint}"]
    document.metadata.created = document.metadata.modified = moment.isoformat()
    document.metadata.generator = f"planbuilder {__version__}"
    document.metadata.attachments = [
        weasyprint.Attachment(
            string=text,
            name=name,
            description=description,
            relationship="Source" if name.endswith("toml") else "Data",
            created=moment,
            modified=moment,
        )
        for name, description, text in (
            ("site.toml", "Site file of this plan", plan.text),
            *((name, "Rules of this site", text) for name, text in plan.limits.own_files),
            ("results.json", "Results of the checks", results_json(plan)),
        )
    ]
    return write_archive(document, **options)


@functools.cache
def _style(weasyprint: Any, folder: Path | None = None) -> tuple[Any, ...]:  # noqa: ANN401
    """One font configuration and one set of sheets a process: a new one each time leaks."""
    from weasyprint.text.fonts import FontConfiguration  # noqa: PLC0415

    fonts = FontConfiguration()
    fetcher = _local_fetcher(weasyprint, folder)  # else typefaces are fetched without it, or missed
    names = ("print.css", "fixed.css") if folder else ("print.css",)
    sheets = (
        weasyprint.CSS(
            url=(templates_folder() / name).as_uri(), font_config=fonts, url_fetcher=fetcher
        )
        for name in names
    )
    return fonts, *sheets


@functools.cache
def _local_fetcher(weasyprint: Any, folder: Path | None = None) -> Any:  # noqa: ANN401
    """Reads our own templates, and those in *folder* in their stead: no network, no other file."""
    root = templates_folder().resolve()
    roots = (folder.resolve(), root) if folder else (root,)

    class LocalFetcher(weasyprint.urls.URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:  # noqa: ANN401
            parts = urlsplit(url)
            name = unquote(parts.path)
            path = Path(name.removeprefix("/") if os.name == "nt" else name).resolve()
            is_local = parts.scheme == "file" and not parts.netloc
            inside = next((one for one in roots if path.is_relative_to(one)), None)
            if not is_local or inside is None:
                message = f"{url} is outside the templates"
                raise ValueError(message)
            stand_in = file_of(str(path.relative_to(inside)), *roots) if folder else None
            return super().fetch(stand_in.as_uri() if stand_in else url, headers)

    return LocalFetcher(allowed_protocols=("file",), fail_on_errors=True)
