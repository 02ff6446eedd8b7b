/* What every page does with a script; each page works without it. */
(() => {
  "use strict";

  // Writes through htmx carry the token that forms carry in a hidden field.
  document.addEventListener("htmx:configRequest", (event) => {
    const csrf = document.querySelector('meta[name="csrf"]');
    if (csrf && event.detail.verb !== "get") {
      event.detail.headers[csrf.dataset.header] = csrf.content;
    }
  });

  // What must be mended is read first, after a page load and after a swap.
  const focusErrors = (root) => {
    const summary = root.querySelector(".error-summary");
    if (summary) {
      summary.focus();
    }
  };

  // A link of the summary leads into the field, not only to it.
  document.addEventListener("click", (event) => {
    const link = event.target.closest(".error-summary a");
    if (!link) {
      return;
    }
    const field = document.getElementById(decodeURIComponent(link.hash.slice(1)));
    if (field) {
      event.preventDefault();
      (field.closest(".field") ?? field).scrollIntoView({ block: "start" });
      field.focus({ preventScroll: true });
    }
  });

  // A form is sent once, however often its button is pressed.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "post" || form.target) {
      return;
    }
    if (form.dataset.sent) {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "true";
    // An answer that is a file leaves the page as it is: then the form can be sent again.
    window.setTimeout(() => delete form.dataset.sent, 3000);
  });
  window.addEventListener("pageshow", () => {
    document.querySelectorAll("form[data-sent]").forEach((form) => delete form.dataset.sent);
  });

  // A password can be shown while it is typed.
  document.querySelectorAll("[data-show-secret]").forEach((button) => {
    const field = document.getElementById(button.dataset.showSecret);
    button.hidden = false;
    button.addEventListener("click", () => {
      const shown = field.type === "text";
      field.type = shown ? "password" : "text";
      button.setAttribute("aria-pressed", String(!shown));
    });
  });

  // A code that was handed over in a link stands behind its mark, where no server sees it.
  const invited = document.querySelector("form[data-code-from-address]");
  if (invited && window.location.hash.length > 1) {
    const code = invited.elements.code;
    code.value = decodeURIComponent(window.location.hash.slice(1));
    window.history.replaceState(null, "", window.location.pathname);
    invited.elements.password.focus();
  }

  // What was kept over a sign-in goes on by itself; without a script there is a button.
  document.querySelector("form[data-send-at-once]")?.requestSubmit();

  document.addEventListener("click", (event) => {
    if (event.target.closest("[data-print]")) {
      window.print();
    }
  });

  // Printed, a disclosure has nobody to open it: what it holds is the evidence.
  window.addEventListener("beforeprint", () => {
    document.querySelectorAll("details:not([open])").forEach((details) => {
      details.open = true;
      details.dataset.openedForPrint = "true";
    });
  });
  window.addEventListener("afterprint", () => {
    document.querySelectorAll("details[data-opened-for-print]").forEach((details) => {
      details.open = false;
      delete details.dataset.openedForPrint;
    });
  });

  document.addEventListener("htmx:afterSwap", (event) => focusErrors(event.detail.target));
  focusErrors(document);
})();
