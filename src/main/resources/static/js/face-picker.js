/* Sets a scar's mark on the face map. Without it the two numbers are typed. */
(() => {
  "use strict";

  const form = document.querySelector("[data-scar-form]");
  if (!form) {
    return;
  }
  const picker = form.querySelector(".face-picker");
  const sheet = picker.querySelector(".face-picker__sheet");
  const mark = picker.querySelector(".face-picker__mark");
  const { region, label, mapX, mapY } = form.elements;
  const { width, height } = sheet.viewBox.baseVal;
  picker.classList.add("face-picker--live");

  const share = (field) => {
    const value = field.value.trim().replace(",", ".");
    return value !== "" && value >= 0 && value <= 1 ? Number(value) : null;
  };

  const show = () => {
    const x = share(mapX);
    const y = share(mapY);
    const placed = x !== null && y !== null;
    mark.setAttribute("visibility", placed ? "visible" : "hidden");
    if (placed) {
      mark.setAttribute("transform", `translate(${x * width} ${y * height})`);
    }
    sheet.querySelectorAll("[data-region]").forEach((outline) => {
      outline.classList.toggle("face-picker__region--chosen", outline.dataset.region === region.value);
    });
    label.placeholder = region.selectedOptions[0]?.dataset.nextLabel ?? "";
  };

  // A place says its region, too; one outside of all regions sets the mark alone.
  sheet.addEventListener("click", (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(sheet.getScreenCTM().inverse());
    const within = (value) => Math.min(1, Math.max(0, value)).toFixed(4);
    mapX.value = within(point.x / width);
    mapY.value = within(point.y / height);
    const outline = event.target.closest("[data-region]");
    if (outline) {
      region.value = outline.dataset.region;
    }
    show();
  });

  [region, mapX, mapY].forEach((field) => field.addEventListener("input", show));
  show();
})();
