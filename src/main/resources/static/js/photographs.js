/* Sends pictures one by one and shows how far each is. Without it the form sends them all at once. */
(() => {
  "use strict";

  const form = document.querySelector("form[data-photographs]");
  if (!form) {
    return;
  }
  const AT_ONCE = 2;
  const input = form.elements.files;
  const list = form.querySelector("[data-sending]");
  const status = form.querySelector("[data-sending-status]");
  const words = list.dataset;
  const waiting = [];
  let underWay = 0;

  const line = (file) => {
    const item = document.createElement("li");
    item.className = "sending__file";
    const name = document.createElement("span");
    name.className = "sending__name";
    name.textContent = file.name;
    const state = document.createElement("span");
    const bar = document.createElement("progress");
    bar.className = "progress__bar sending__bar";
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute("aria-label", file.name);
    item.append(name, state, bar);
    list.append(item);
    return { file, item, state, bar };
  };

  const say = (entry, text) => {
    entry.state.textContent = text;
    status.textContent = `${entry.file.name}: ${text}`;
  };

  // What the service answers is its own page's words, already escaped there.
  const show = (entry, markup) => {
    entry.state.replaceChildren(...new DOMParser().parseFromString(markup, "text/html").body.childNodes);
    status.textContent = `${entry.file.name}: ${entry.state.textContent.trim()}`;
  };

  const refuse = (entry) => {
    entry.item.classList.add("sending__file--refused");
    const again = document.createElement("button");
    again.type = "button";
    again.className = "button button--dense";
    again.textContent = words.again;
    again.addEventListener("click", () => {
      entry.item.classList.remove("sending__file--refused");
      queue(entry);
    });
    entry.state.append(" ", again);
  };

  const send = (entry) => {
    const content = new FormData(form);
    content.delete("files");
    content.append("file", entry.file);
    const request = new XMLHttpRequest();
    request.open("POST", form.dataset.photographs);
    request.upload.addEventListener("progress", (event) => {
      entry.bar.value = event.lengthComputable ? event.loaded / event.total : 0;
    });
    request.addEventListener("loadend", () => {
      underWay--;
      entry.bar.hidden = true;
      const whole = request.responseText.includes("<!DOCTYPE");
      if (request.status === 0 || whole) {
        say(entry, words.lost);
        refuse(entry);
      } else {
        show(entry, request.responseText);
        if (request.status !== 200) {
          refuse(entry);
        }
      }
      next();
    });
    say(entry, words.underWay);
    request.send(content);
  };

  const next = () => {
    while (underWay < AT_ONCE && waiting.length > 0) {
      underWay++;
      send(waiting.shift());
    }
  };

  const queue = (entry) => {
    entry.bar.hidden = false;
    entry.bar.value = 0;
    say(entry, words.waiting);
    waiting.push(entry);
    next();
  };

  form.addEventListener("submit", (event) => {
    // Fields that are wrong are shown by the page itself, as is a form without a picture.
    if (input.files.length === 0 || !form.elements.view.value || !form.elements.lightSet.value) {
      return;
    }
    event.preventDefault();
    list.hidden = false;
    [...input.files].map(line).forEach(queue);
    input.value = "";
  });

  window.addEventListener("beforeunload", (event) => {
    if (underWay > 0 || waiting.length > 0) {
      event.preventDefault();
    }
  });
})();
