"""What the kit adds to the Jupyter server: pictures at once, and notebooks saved with pictures.

Loaded by ``python3 -m mechkit lab`` (``--ServerApp.jpserver_extensions``), for that start only.
"""

WIDGET = "application/vnd.jupyter.widget-view+json"
#: What shows everywhere in a live panel's place.
STILLS = {"image/png", "text/html"}


def _jupyter_server_extension_points():
    return [{"module": "mechkit.lab_server"}]


def _load_jupyter_server_extension(server):
    """Called by Jupyter when the server starts."""
    server.contents_manager.register_pre_save_hook(keep_pictures)
    if not send_at_once():
        server.log.warning("mechkit: this Jupyter server keeps its pace; sliders stay slower")


def send_at_once():
    """Send every message of a kernel when it is there; returns whether that could be set.

    By default a small message waits up to 40 ms for the answer to the one before, which holds
    every slider to about 20 pictures a second.
    """
    try:
        from jupyter_server.services.kernels.websocket import KernelWebsocketHandler as Handler

        opened = Handler.open
    except (ImportError, AttributeError):
        return False
    if getattr(opened, "sends_at_once", False) or not hasattr(Handler, "set_nodelay"):
        return hasattr(Handler, "set_nodelay")

    async def open_at_once(self, *args, **kwargs):
        self.set_nodelay(True)
        return await opened(self, *args, **kwargs)

    open_at_once.sends_at_once = True  # type: ignore[attr-defined]
    Handler.open = open_at_once  # type: ignore[method-assign]
    return True


def keep_pictures(model, **_):
    """Before a notebook is saved: where a panel left a picture, store that and not the dead panel.

    A saved panel has no kernel behind it and shows as an empty box on code hosts and in exported
    pages; the picture beside it shows everywhere.
    """
    if model["type"] != "notebook" or model["content"]["nbformat"] < 4:
        return
    notebook = model["content"]
    notebook["metadata"].pop("widgets", None)
    for cell in notebook["cells"]:
        for output in cell.get("outputs", ()):
            if STILLS & output.get("data", {}).keys():
                output["data"].pop(WIDGET, None)
