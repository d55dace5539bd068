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
from planbuilder.results import results_json
from planbuilder.view.model import PlanView
from planbuilder.view.pages import view_of

if TYPE_CHECKING:
    from planbuilder.plan import Plan

PHOTO_DPI = 150


def written(plan: Plan, target: Path, *, kind: str, paper: str | None) -> None:
    """Write *plan* to *target* as pdf, html or json, whole or not at all.

    Raises MissingLibraryError when a PDF is asked for without Pango, and PlanbuilderError when
    the file cannot be written.
    """
    match kind:
        case "json":
            data = results_json(plan).encode()
        case "html":
            data = to_html(view_of(plan, paper)).encode()
        case _:
            data = to_pdf(plan, paper)
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
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(templates_folder()),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        bytecode_cache=jinja2.FileSystemBytecodeCache(),
    )


def to_html(view: PlanView) -> str:
    """The plan as one self-contained HTML page."""
    return _environment().get_template("plan.html").render(plan=view)


def to_pdf(plan: Plan, paper: str | None = None) -> bytes:
    """The plan as a tagged PDF that lasts, with fields, site file and results inside.

    The same plan gives the same bytes: every date in the file is the day of the check.
    Raises MissingLibraryError when Pango is not there, and PlanbuilderError when a typeface or
    style that ships with the program is gone: another typeface would move every line.
    """
    from planbuilder.pango import load_weasyprint  # noqa: PLC0415 - 200 ms that only a PDF pays

    weasyprint = load_weasyprint()
    try:
        return _pdf(weasyprint, plan, paper)
    except weasyprint.urls.FatalURLFetchingError as error:  # no Exception: nothing else stops it
        message = f"a file of planbuilder cannot be read; install it again ({error})"
        raise PlanbuilderError(message) from error


def _pdf(weasyprint: Any, plan: Plan, paper: str | None) -> bytes:  # noqa: ANN401 - no types
    view = view_of(plan, paper)
    moment = datetime.combine(plan.on, time(), UTC)
    fonts, sheet = _style(weasyprint)
    options: dict[str, Any] = {"pdf_variant": VARIANT, "dpi": PHOTO_DPI}
    page = weasyprint.HTML(
        string=to_html(view),
        base_url=templates_folder().as_uri() + "/",
        url_fetcher=_local_fetcher(weasyprint),
    )
    document = page.render(stylesheets=[sheet], font_config=fonts, **options)
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
def _style(weasyprint: Any) -> tuple[Any, Any]:  # noqa: ANN401 - module without types
    """One font configuration and one stylesheet a process: a new one each time leaks."""
    from weasyprint.text.fonts import FontConfiguration  # noqa: PLC0415

    fonts = FontConfiguration()
    path = templates_folder() / "print.css"
    fetcher = _local_fetcher(weasyprint)  # else the typefaces are fetched without it, or missed
    return fonts, weasyprint.CSS(filename=str(path), font_config=fonts, url_fetcher=fetcher)


@functools.cache
def _local_fetcher(weasyprint: Any) -> Any:  # noqa: ANN401 - module without types
    """Reads our own template folder and nothing else: no network, no other file."""
    root = templates_folder().resolve()

    class LocalFetcher(weasyprint.urls.URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:  # noqa: ANN401
            parts = urlsplit(url)
            name = unquote(parts.path)
            path = Path(name.removeprefix("/") if os.name == "nt" else name).resolve()
            is_local = parts.scheme == "file" and not parts.netloc
            if not is_local or not path.is_relative_to(root):
                message = f"{url} is outside the templates"
                raise ValueError(message)
            return super().fetch(url, headers)

    return LocalFetcher(allowed_protocols=("file",), fail_on_errors=True)
