/* The session sheet at the chair: the place is chosen on a plan, the last pattern is repeated by a tap, rows come and go
   without a connection, and what is typed is saved while it is typed. Without it the rows of the form do. It computes no
   figure: every one comes from the service. */
(() => {
  "use strict";

  const form = document.querySelector("form[data-session-sheet]");
  if (!form) {
    return;
  }
  const chair = form.querySelector("[data-chair]");
  const words = chair.dataset;
  const part = (name) => chair.querySelector(`[data-${name}]`);
  const lists = { injections: words.textRow, preparations: words.textPreparation };
  const container = (list) => form.querySelector(`[data-rows="${list}"]`);
  const rows = (list) => [...container(list).querySelectorAll(":scope > .entry-row")];
  const say = (text, ...values) => values.reduce((said, value, i) => said.replace(`{${i}}`, value), text);

  // Fields of a row

  const controls = (row, name) => [...row.querySelectorAll(`[name$="].${name}"]`)];

  const value = (row, name) => {
    const [first, ...others] = controls(row, name);
    if (first?.type === "radio") {
      return [first, ...others].find((radio) => radio.checked)?.value ?? "";
    }
    return first?.value.trim() ?? "";
  };

  const set = (row, name, text) => {
    controls(row, name).forEach((control) => {
      if (control.type === "radio") {
        control.checked = control.value === text;
      } else {
        control.value = text;
      }
    });
  };

  const chosenText = (row, name) => {
    const select = controls(row, name)[0];
    return select?.value ? select.selectedOptions[0].textContent : "";
  };

  const unit = (row, name) => controls(row, name)[0]?.parentElement.querySelector(".measure__unit")?.textContent ?? "";

  const caption = (row, name) => controls(row, name)[0]?.closest("fieldset").querySelector("legend").textContent.trim() ?? "";

  const ENDPOINTS = ["blanching", "bleeding", "baseLifted", "lumpRaised", "secondDirection"];
  const TYPED = ["region", "scar", "points", "volumeMl", "painNrs", "areaCm2", ...ENDPOINTS];
  const isBlank = (row) => TYPED.every((name) => value(row, name) === "");

  // Rows come and go

  const clear = (row) => {
    row.querySelectorAll("input, select, textarea").forEach((control) => {
      if (control.type === "radio") {
        control.checked = control.value === "";
      } else {
        control.value = "";
      }
      control.removeAttribute("aria-invalid");
    });
    row.querySelectorAll(".field__error").forEach((error) => error.remove());
    row.querySelectorAll(".field--wrong").forEach((field) => field.classList.remove("field--wrong"));
    row.classList.remove("entry-row--open");
    return row;
  };

  const rename = (row, list, index) => {
    row.querySelectorAll("[data-catalogue] label, [data-lots]").forEach((element) => {
      element.setAttribute(element.matches("label") ? "for" : "id", `catalogue${index}.lot`);
    });
    const path = new RegExp(`${list}(\\[\\d+\\]|\\d+)\\.`, "g");
    row.querySelectorAll("[name], [id], [for], [aria-describedby]").forEach((element) => {
      for (const attribute of ["name", "id", "for", "aria-describedby"]) {
        const text = element.getAttribute(attribute);
        if (text) {
          element.setAttribute(
            attribute,
            text.replace(path, (all, place) => `${list}${place.startsWith("[") ? `[${index}]` : index}.`),
          );
        }
      }
    });
  };

  const pattern = {};
  for (const list of Object.keys(lists)) {
    const first = rows(list)[0];
    pattern[list] = first ? clear(first.cloneNode(true)) : null;
  }

  const add = (list) => {
    const numbers = rows(list).filter((row) => !row.hidden).map((row) => Number(value(row, "number")));
    const number = Math.max(0, ...numbers) + 1;
    const row = pattern[list].cloneNode(true);
    rename(row, list, rows(list).length);
    set(row, "number", String(number));
    row.hidden = false;
    row.querySelector(".entry-row__legend").textContent = say(lists[list], number);
    const remove = row.querySelector('button[name="change"]');
    remove.value = remove.value.replace(/\d+/, number);
    remove.setAttribute("aria-label", remove.getAttribute("aria-label").replace(/\d+/, number));
    container(list).append(row);
    return row;
  };

  const remove = (list, row) => {
    row.remove();
    if (rows(list).length === 0) {
      add(list).hidden = list === "injections";
    }
    rows(list).forEach((left, index) => rename(left, list, index));
  };

  // A change that no key made: whoever listens to typing hears of it, too.
  const changed = (row) => {
    const number = controls(row, "number")[0] ?? form.elements.version;
    number.dispatchEvent(new Event("input", { bubbles: true }));
    number.dispatchEvent(new Event("change", { bubbles: true }));
  };

  // Preparations: what injections came from

  let source = "";

  const showSources = () => {
    const offered = rows("preparations").map((row) => {
      const number = value(row, "number");
      const product = value(row, "product");
      return { number, text: product ? `${number} · ${product}` : number };
    });
    if (!offered.some((one) => one.number === source)) {
      source = offered[0]?.number ?? "";
    }
    [...rows("injections"), pattern.injections].filter(Boolean).forEach((row) => {
      const select = controls(row, "preparation")[0];
      const before = select.value;
      [...select.options].slice(1).forEach((option) => option.remove());
      offered.forEach((one) => select.add(new Option(one.text, one.number)));
      select.value = offered.some((one) => one.number === before) ? before : "";
    });
    const group = part("sources");
    group.replaceChildren(
      ...offered.map((one) => {
        const button = document.createElement("button");
        button.type = "button";
        button.className = "chair__choice";
        button.dataset.source = one.number;
        button.textContent = one.text;
        button.setAttribute("aria-pressed", String(one.number === source));
        return button;
      }),
    );
    group.hidden = offered.length < 2;
  };

  // Places

  const choices = [...part("places").querySelectorAll("[data-place]")];
  const choice = (place) => choices.find((button) => button.dataset.place === place);
  const marks = [...chair.querySelectorAll("svg [data-place]")];
  const placeOf = (row) => {
    const region = value(row, "region");
    const scar = value(row, "scar");
    const both = `${region} ${scar}`;
    return scar && choice(both) ? both : region;
  };
  const placeText = (place) => choice(place).getAttribute("aria-label") ?? choice(place).textContent;
  let chosen = null;

  const reach = (button, scroll) => {
    choices.forEach((other) => other.setAttribute("tabindex", other === button ? "0" : "-1"));
    button.focus({ preventScroll: !scroll });
  };

  const showPlaces = () => {
    const done = new Set();
    rows("injections").forEach((row) => {
      if (!isBlank(row)) {
        done.add(placeOf(row));
      }
    });
    choices.forEach((button) => {
      button.classList.toggle("chair__choice--done", done.has(button.dataset.place));
      button.setAttribute("aria-pressed", String(button.dataset.place === chosen));
    });
    marks.forEach((mark) => {
      const kind = mark.classList.contains("chair__region") ? "chair__region" : "chair__mark";
      mark.classList.toggle(`${kind}--done`, done.has(mark.dataset.place));
      mark.classList.toggle(`${kind}--chosen`, mark.dataset.place === chosen);
    });
  };

  const lastPattern = (place) => {
    const target = place.includes(" ") ? "scar" : "pores";
    return rows("injections")
      .filter((row) => value(row, "target") === target && describe(row) !== "")
      .pop();
  };

  const describe = (row) => {
    const points = value(row, "points");
    const pointMl = value(row, "pointMl");
    const volume = value(row, "volumeMl");
    const amount = [points && say(words.textPoints, points), pointMl && say(words.textPerPoint, pointMl)];
    const needle = ["needleGauge", "needleMm"].filter((name) => value(row, name));
    return [
      chosenText(row, "layer"),
      amount.filter(Boolean).join(" "),
      volume && say(words.textVolume, volume),
      needle.map((name) => `${value(row, name)} ${unit(row, name)}`).join(" "),
      value(row, "angleDegrees") && `${value(row, "angleDegrees")}${unit(row, "angleDegrees")}`,
      // what was seen is repeated in so many words, or not at all
      ...ENDPOINTS.slice(0, 3)
        .filter((name) => value(row, name) === "true")
        .map((name) => caption(row, name)),
    ]
      .filter(Boolean)
      .join(", ");
  };

  const summary = (row) => {
    row.querySelector("[data-summary]").textContent = [
      chosenText(row, "region"),
      chosenText(row, "scar").split(" · ")[0],
      describe(row),
    ]
      .filter(Boolean)
      .join(" · ");
  };

  const showFigures = () => {
    const region = chosen?.split(" ")[0];
    const area = region && document.querySelector(`#checks [data-area="${region}"]`);
    part("area-figures").textContent = area ? area.dataset.summary : "";
    part("total-figures").textContent = document.querySelector("#checks [data-total]")?.textContent ?? "";
  };

  const choose = (place, byKey) => {
    chosen = place;
    part("chosen").textContent = placeText(place);
    const last = lastPattern(place);
    part("pattern").textContent = last ? describe(last) : part("pattern").dataset.none;
    part("note").textContent = choice(place).dataset.note;
    part("note").hidden = part("note").textContent === "";
    part("again").disabled = !last;
    part("other").disabled = false;
    if (last && value(last, "preparation")) {
      source = source || value(last, "preparation");
    }
    showPlaces();
    showFigures();
    choices.forEach((button) => button.setAttribute("tabindex", button.dataset.place === place ? "0" : "-1"));
    (last ? part("again") : part("other")).focus({ preventScroll: !byKey });
  };

  const goOn = (byKey) => {
    const next = choices[(choices.findIndex((button) => button.dataset.place === chosen) + 1) % choices.length];
    reach(next, byKey);
  };

  const CARRIED = ["layer", "points", "pointMl", "volumeMl", "angleDegrees", "needleGauge", "needleMm", "spacingMm"];

  const enter = (copied) => {
    const blank = rows("injections").find((row) => row.hidden);
    const row = add("injections");
    if (blank) {
      blank.remove();
      rows("injections").forEach((left, index) => rename(left, "injections", index));
    }
    const [region, scar = ""] = chosen.split(" ");
    set(row, "region", region);
    set(row, "scar", scar);
    set(row, "target", scar ? "scar" : "pores");
    set(row, "preparation", source);
    const last = lastOf(copied, row);
    if (last) {
      const carried = copied ? CARRIED : ["pointMl", "angleDegrees", "needleGauge", "needleMm", "spacingMm"];
      carried.forEach((name) => set(row, name, value(last, name)));
      if (copied) {
        ENDPOINTS.slice(0, 3)
          .filter((name) => value(last, name) === "true")
          .forEach((name) => set(row, name, "true"));
      }
    }
    summary(row);
    return row;
  };

  const lastOf = (copied, row) => {
    const before = rows("injections").filter((one) => one !== row && describe(one) !== "");
    return before.filter((one) => value(one, "target") === value(row, "target")).pop() ?? (copied ? null : before.pop());
  };

  const open = (row, isOpen) => {
    row.classList.toggle("entry-row--open", isOpen);
    row.querySelector("[data-open]").setAttribute("aria-expanded", String(isOpen));
  };

  const live = (row) => {
    row.querySelectorAll("[data-summary], [data-open], [data-done]").forEach((element) => {
      element.hidden = false;
    });
  };

  part("again").addEventListener("click", (event) => {
    const row = enter(true);
    part("said").textContent = say(words.textAdded, row.querySelector("[data-summary]").textContent);
    changed(row);
    showPlaces();
    goOn(event.detail === 0);
  });

  part("other").addEventListener("click", () => {
    const row = enter(false);
    rows("injections").forEach((other) => open(other, other === row));
    row.scrollIntoView({ block: "nearest" });
    controls(row, "layer")[0].focus();
    changed(row);
    showPlaces();
  });

  chair.addEventListener("click", (event) => {
    const place = event.target.closest("[data-place]")?.dataset.place;
    if (place) {
      choose(place, event.detail === 0);
    }
    const from = event.target.closest("[data-source]")?.dataset.source;
    if (from) {
      source = from;
      showSources();
      part("sources").querySelector(`[data-source="${from}"]`).focus();
    }
  });

  part("places").addEventListener("keydown", (event) => {
    const at = choices.indexOf(event.target);
    const to = {
      ArrowDown: at + 1,
      ArrowRight: at + 1,
      ArrowUp: at - 1,
      ArrowLeft: at - 1,
      Home: 0,
      End: choices.length - 1,
    }[event.key];
    if (at >= 0 && to !== undefined) {
      event.preventDefault();
      reach(choices[(to + choices.length) % choices.length], true);
    } else if (at >= 0 && event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.altKey && !event.metaKey) {
      // a letter leads to the next place that begins with it
      const order = [...choices.slice(at + 1), ...choices.slice(0, at + 1)];
      const found = order.find((button) => button.textContent.trim().toLowerCase().startsWith(event.key.toLowerCase()));
      if (found) {
        event.preventDefault();
        reach(found, true);
      }
    }
  });

  // The caution about depth stands until it was read, or the answer was another one.
  const caution = part("caution");
  const isOverVessels = (row) => choice(value(row, "region"))?.dataset.vessels === "true";
  part("caution-seen").addEventListener("click", () => {
    caution.hidden = true;
  });

  container("injections").addEventListener("change", (event) => {
    const row = event.target.closest(".entry-row");
    if (event.target.name?.endsWith("].blanching") || event.target.name?.endsWith("].region")) {
      caution.hidden = !(value(row, "blanching") === "false" && isOverVessels(row));
    }
  });

  container("injections").addEventListener("input", (event) => {
    const row = event.target.closest(".entry-row");
    summary(row);
    showPlaces();
    if (chosen) {
      const last = lastPattern(chosen);
      part("pattern").textContent = last ? describe(last) : part("pattern").dataset.none;
      part("again").disabled = !last;
    }
  });

  container("injections").addEventListener("click", (event) => {
    const row = event.target.closest(".entry-row");
    if (event.target.closest("[data-open]")) {
      const opens = !row.classList.contains("entry-row--open");
      open(row, opens);
      if (opens) {
        controls(row, "layer")[0].focus();
      }
    } else if (event.target.closest("[data-done]")) {
      done(row);
    }
  });

  const done = (row) => {
    open(row, false);
    const place = placeOf(row);
    if (place && choice(place)) {
      chosen = place;
      showPlaces();
      goOn(true);
    }
  };

  // The enter key ends an entry; it never sends the sheet from within a row.
  container("injections").addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input")) {
      event.preventDefault();
      done(event.target.closest(".entry-row"));
    }
  });

  // A lot of the catalogue fills a preparation in; a choice is no part of the form.
  container("preparations").addEventListener("change", (event) => {
    if (event.target.matches("[data-lots]") && event.target.value) {
      const row = event.target.closest(".entry-row");
      const lot = event.target.selectedOptions[0];
      set(row, "product", lot.dataset.product);
      set(row, "lot", lot.value);
      set(row, "expiresOn", lot.dataset.expiresOn);
      set(row, "vialMg", lot.dataset.vialMg);
      set(row, "hyaluronicMg", lot.dataset.hyaluronicMg);
      event.stopPropagation();
      changed(row);
    }
  });

  container("preparations").addEventListener("input", showSources);

  // The buttons for rows do without the service.
  form.addEventListener(
    "click",
    (event) => {
      const button = event.target.closest('button[name="change"]');
      const [what, number] = button?.value.split(" ") ?? [];
      const list = { preparation: "preparations", injection: "injections" }[what?.replace("-", "")];
      if (!list || !pattern[list]) {
        return;
      }
      event.preventDefault();
      event.stopImmediatePropagation();
      if (what.startsWith("-")) {
        const row = rows(list).find((one) => value(one, "number") === number);
        const text = row.querySelector(".entry-row__legend").textContent;
        remove(list, row);
        part("said").textContent = say(words.textRemoved, text);
        (list === "injections" ? choices.find((one) => one.tabIndex === 0) : container(list).querySelector("input[type=text]"))?.focus();
      } else {
        const last = rows(list).pop();
        const row = add(list);
        if (list === "injections") {
          ["preparation", "target", "layer", "pointMl", "angleDegrees", "needleGauge", "needleMm", "spacingMm"].forEach((name) =>
            set(row, name, value(last, name)),
          );
          live(row);
          rows("injections").forEach((other) => open(other, other === row));
        }
        row.querySelector("input:not([type=hidden]), select").focus();
      }
      showSources();
      showPlaces();
      changed(rows(list)[0]);
    },
    true,
  );

  // Rows in which nothing is typed give way to the plan; one stays as the pattern of all others.
  rows("injections").forEach((row) => {
    live(row);
    if (isBlank(row)) {
      if (rows("injections").length > 1) {
        row.remove();
      } else {
        row.hidden = true;
      }
    } else {
      summary(row);
      open(row, row.querySelector(".field--wrong") !== null);
    }
  });
  rows("injections").forEach((row, index) => rename(row, "injections", index));
  live(pattern.injections ?? form);
  [...rows("preparations"), pattern.preparations].filter(Boolean).forEach((row) => {
    row.querySelectorAll("[data-catalogue]").forEach((element) => {
      element.hidden = false;
    });
  });
  container("injections").classList.add("entry-rows--live");
  source = rows("injections").map((row) => value(row, "preparation")).filter(Boolean).pop() ?? "";
  showSources();
  showPlaces();
  choices[0].setAttribute("tabindex", "0");
  chair.hidden = false;
  showFigures();
  document.addEventListener("htmx:afterSwap", showFigures);

  // Saving while somebody types. Nothing is kept in the browser beyond this page.

  const state = form.querySelector("[data-save-state]");
  if (!state) {
    return;
  }
  const PAUSE = 500;
  const RETRIES = [1000, 2000, 4000, 8000, 15000];
  let typed = 0;
  let saved = 0;
  let savedAt = null;
  let busy = false;
  let failures = 0;
  let timer = null;
  let stopped = false;
  let sending = false;

  const show = (text, trouble) => {
    state.hidden = false;
    state.querySelector("[data-save-text]").textContent = text;
    const alert = state.querySelector("[data-save-trouble]");
    if (alert.textContent !== trouble) {
      alert.textContent = trouble;
    }
    state.classList.toggle("save-state--trouble", trouble !== "");
    state.dataset.state = trouble ? "trouble" : typed === saved ? "saved" : "waiting";
  };

  const showState = () => {
    if (typed === saved && savedAt) {
      show(say(state.dataset.saved, savedAt), "");
    } else if (failures > 0) {
      show(state.dataset.waiting, savedAt ? say(state.dataset.lost, savedAt) : state.dataset.lostNever);
    } else {
      show(state.dataset.waiting, "");
    }
  };

  const later = (pause) => {
    window.clearTimeout(timer);
    timer = window.setTimeout(save, pause);
  };

  const stop = (text) => {
    stopped = true;
    show(state.dataset.waiting, text);
  };

  const take = (answer) => {
    const told = new DOMParser().parseFromString(answer, "text/html").getElementById("saved");
    const { version, action, at, shown } = told.dataset;
    if (form.getAttribute("action") !== action) {
      form.setAttribute("action", action);
      window.history.replaceState(null, "", action);
    }
    document.querySelectorAll('main input[name="version"]').forEach((field) => {
      field.value = version;
    });
    if (form.elements._shown) {
      form.elements._shown.value = shown;
    }
    savedAt = at;
    const before = document.getElementById("checks");
    const after = told.querySelector("#checks");
    const confirmed = before.querySelector('[name="vesselsSeen"]');
    const confirm = after.querySelector('[name="vesselsSeen"]:not([type=hidden])');
    if (confirm && confirmed) {
      confirm.checked = before.querySelector('[name="vesselsSeen"]:not([type=hidden])').checked;
    }
    const focused = before.contains(document.activeElement) ? document.activeElement.id : null;
    before.replaceWith(document.importNode(after, true));
    if (focused) {
      document.getElementById(focused)?.focus({ preventScroll: true });
    }
    showFigures();
  };

  const save = async () => {
    window.clearTimeout(timer);
    if (busy || stopped || sending || typed === saved) {
      return;
    }
    busy = true;
    const upTo = typed;
    const body = new URLSearchParams(new FormData(form));
    body.delete("_shown");
    body.set("save", "true");
    try {
      const answer = await window.fetch(form.getAttribute("action"), {
        method: "POST",
        body,
        headers: { "HX-Request": "true" },
        redirect: "manual",
        cache: "no-store",
        signal: AbortSignal.timeout(20000),
      });
      if (answer.ok) {
        take(await answer.text());
        saved = upTo;
        failures = 0;
        document.dispatchEvent(new CustomEvent("seriatim:used"));
      } else if (answer.status === 401 || answer.type === "opaqueredirect") {
        stopped = true;
        document.dispatchEvent(new CustomEvent("seriatim:signed-out"));
      } else if (answer.status === 409) {
        stop(state.dataset.conflict);
        state.querySelector("[data-save-compare]").hidden = false;
      } else if (answer.status === 410) {
        stop(state.dataset.settled);
      } else if (answer.status < 500 && answer.status !== 0) {
        stop(state.dataset.refused);
      } else {
        failures++;
      }
    } catch {
      // no network, or no service
      failures++;
    }
    busy = false;
    if (stopped) {
      return;
    }
    showState();
    if (typed !== saved) {
      later(failures > 0 ? RETRIES[Math.min(failures, RETRIES.length) - 1] : PAUSE);
    }
  };

  const hear = () => {
    typed++;
    if (!stopped) {
      showState();
      later(failures > 0 ? RETRIES[Math.min(failures, RETRIES.length) - 1] : PAUSE);
    }
  };

  form.addEventListener("input", hear);
  form.addEventListener("change", hear);
  window.addEventListener("online", () => later(0));
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) {
      save();
    }
  });
  form.addEventListener("submit", () => {
    sending = true;
  });
  window.addEventListener("pageshow", () => {
    sending = false;
  });
  window.addEventListener("beforeunload", (event) => {
    if (typed !== saved && !sending && !document.body.hidden) {
      event.preventDefault();
    }
  });
  // What came back to be mended, or over a sign-in, is saved nowhere yet.
  if (form.dataset.unsaved) {
    hear();
  }
})();
