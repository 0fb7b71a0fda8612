"""Prints a page with WebKitGTK to a PDF file, as its print dialog would.

The engine's driver cannot print, and its browser only by a dialog that a person must answer.

    print_in_webkit.py ADDRESS FILE PAPER MARGINS STORED

PAPER is the name of the sheet in the dialog, such as iso_a4 or na_letter. MARGINS is `none`, or
`printer` for those that the dialog takes when nobody changes them. STORED is what the page kept on
earlier visits (its localStorage as JSON).
"""

import os
import signal
import sys

import gi

gi.require_version("Gtk", "3.0")
gi.require_version("WebKit2", "4.1")
from gi.repository import GLib, Gtk, WebKit2  # noqa: E402

# What the page may take to come to rest, and its print to be written.
PATIENCE_S = 60
# Counted by the system: a call of the toolkit that does not come back stops the clock above.
HUNG_S = 90
BETWEEN_LOOKS_MS = 50

# The page is there, and its sheets are those of what is typed.
AT_REST = """
    (() => {
        const sheets = document.querySelector('.sheets');
        return document.readyState === 'complete' && sheets !== null
            && sheets.querySelector('.page') !== null
            && sheets.getAttribute('aria-busy') !== 'true';
    })()
"""


# Runs before anything of the page does.
VISITED = """
    for (const [key, kept] of Object.entries(%s)) localStorage.setItem(key, kept);
"""


def main(address, file, paper, margins, stored):
    context = WebKit2.WebContext.new_ephemeral()
    view = WebKit2.WebView.new_with_context(context)
    view.get_user_content_manager().add_script(
        WebKit2.UserScript.new(
            VISITED % stored,
            WebKit2.UserContentInjectedFrames.TOP_FRAME,
            WebKit2.UserScriptInjectionTime.START,
            None,
            None,
        )
    )
    window = Gtk.Window(default_width=1280, default_height=900)
    window.add(view)
    window.show_all()
    # Why not, or None; the first counts: a print that failed is also finished.
    outcome = []

    def end(why):
        outcome.append(why)
        Gtk.main_quit()

    def sheet():
        setup = Gtk.PageSetup()
        setup.set_paper_size_and_default_margins(Gtk.PaperSize.new(paper))
        if margins == "none":
            for set_margin in (
                setup.set_top_margin,
                setup.set_bottom_margin,
                setup.set_left_margin,
                setup.set_right_margin,
            ):
                set_margin(0, Gtk.Unit.MM)
        return setup

    def print_it():
        settings = Gtk.PrintSettings()
        # The dialog's own name for a printer that is a file, in the language of this session.
        settings.set_printer("Print to File")
        settings.set(Gtk.PRINT_SETTINGS_OUTPUT_URI, GLib.filename_to_uri(file))
        settings.set(Gtk.PRINT_SETTINGS_OUTPUT_FILE_FORMAT, "pdf")
        operation = WebKit2.PrintOperation.new(view)
        operation.set_print_settings(settings)
        operation.set_page_setup(sheet())
        operation.connect("finished", lambda _: end(None))
        operation.connect("failed", lambda _, error: end(f"it does not print: {error.message}"))
        operation.print_()
        # It is freed with this function otherwise, and prints nothing.
        view.printing = operation

    def look():
        view.evaluate_javascript(AT_REST, -1, None, None, None, looked)
        return GLib.SOURCE_REMOVE

    def looked(view, result):
        try:
            at_rest = view.evaluate_javascript_finish(result).to_boolean()
        except GLib.Error:
            # A page that is not there yet has nothing to say.
            at_rest = False
        if at_rest:
            print_it()
        else:
            GLib.timeout_add(BETWEEN_LOOKS_MS, look)

    view.connect("load-failed", lambda *about: end(f"{about[2]} does not load: {about[3].message}"))
    view.load_uri(address)
    look()
    GLib.timeout_add_seconds(PATIENCE_S, end, "nothing was printed in time")
    Gtk.main()
    trouble = outcome[0]
    # Finished is also said when there was no such printer.
    if trouble is None and not os.path.exists(file):
        trouble = "it says that it has printed, and there is no file"
    if trouble:
        print(trouble, file=sys.stderr, flush=True)
    # At once: what the toolkit does when it goes is nobody's concern.
    os._exit(1 if trouble else 0)


# Ends this process, and nothing catches it.
signal.alarm(HUNG_S)
main(*sys.argv[1:])
