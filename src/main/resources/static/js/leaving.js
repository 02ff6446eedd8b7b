/* Warns before a sign-in ends by itself, and leaves the page when it has ended: what was typed goes to the service,
   which keeps it for the same account, and nothing of the record stays on the screen. */
(() => {
  "use strict";

  const dialog = document.getElementById("leaving");
  if (!dialog) {
    return;
  }

  const idle = Number(dialog.dataset.idle) * 1000;
  const warning = Number(dialog.dataset.warning) * 1000;
  const ends = Number(dialog.dataset.ends);
  // The service counts from when a request reached it, so by then it has ended there too.
  const grace = 5000;
  const stay = dialog.querySelector("[data-stay-here]");
  const understood = dialog.querySelector("[data-understood]");

  // All tabs of the browser share one sign-in; only times are kept there.
  const shared = {
    get: () => {
      try {
        return Number(window.localStorage.getItem("seriatim.used")) || 0;
      } catch {
        return 0;
      }
    },
    set: (time) => {
      try {
        window.localStorage.setItem("seriatim.used", String(time));
      } catch {
        // each tab then counts for itself
      }
    },
  };

  let used = Date.now();
  let warned = false;
  let left = false;
  let lastTyped = null;

  const use = () => {
    used = Date.now();
    shared.set(used);
  };

  document.addEventListener("input", (event) => {
    const form = event.target.form;
    if (form && form.method === "post" && form.elements._owner) {
      lastTyped = form;
    }
  });

  document.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.successful) {
      use();
    }
  });

  // A page that saves by itself tells the same.
  document.addEventListener("seriatim:used", use);
  document.addEventListener("seriatim:signed-out", () => leave());

  // A part of the page was asked for after the end.
  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.xhr.status === 401) {
      event.detail.shouldSwap = false;
      leave();
    }
  });

  const leave = () => {
    if (left) {
      return;
    }
    document.body.hidden = true;
    if (document.hidden) {
      document.addEventListener("visibilitychange", leave, { once: true });
      return;
    }
    left = true;
    if (lastTyped && lastTyped.isConnected) {
      const mark = document.createElement("input");
      mark.type = "hidden";
      mark.name = "_unsent";
      mark.value = "true";
      lastTyped.append(mark);
      lastTyped.noValidate = true;
      HTMLFormElement.prototype.submit.call(lastTyped);
    } else {
      window.location.assign(dialog.dataset.signIn);
    }
  };

  const warn = (text, at, canStay) => {
    document.getElementById("leaving-text").textContent = text.replace(
      "{0}",
      new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" }),
    );
    stay.hidden = !canStay;
    understood.hidden = canStay;
    dialog.showModal();
  };

  const look = () => {
    const now = Date.now();
    const until = Math.max(used, shared.get()) + idle;
    if (now >= Math.min(until, ends) + grace) {
      leave();
    } else if (now >= ends - warning) {
      if (!warned) {
        warned = true;
        dialog.close();
        warn(dialog.dataset.textLongest, ends, false);
      }
    } else if (now >= until - warning) {
      if (!dialog.open) {
        warn(dialog.dataset.textIdle, until, true);
      }
    } else if (dialog.open && !stay.hidden) {
      dialog.close();
    }
  };

  const remain = () => {
    window
      .fetch(dialog.dataset.stay, { headers: { "HX-Request": "true" }, cache: "no-store" })
      .then((answer) => {
        if (answer.ok) {
          use();
          dialog.close();
        } else {
          leave();
        }
      })
      // without a network nothing is known; the end comes by itself
      .catch(() => dialog.close());
  };

  stay.addEventListener("click", remain);
  understood.addEventListener("click", () => dialog.close());
  dialog.addEventListener("cancel", (event) => {
    if (!stay.hidden) {
      event.preventDefault();
      remain();
    }
  });
  window.addEventListener("pageshow", look);
  document.addEventListener("visibilitychange", look);
  window.setInterval(look, 5000);
  use();
})();
