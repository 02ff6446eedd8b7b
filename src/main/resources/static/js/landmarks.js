/* Sets two points in each of two pictures by pointing. Without it the shares are typed. */
(() => {
  "use strict";

  const form = document.querySelector("form[data-landmarks]");
  if (!form) {
    return;
  }
  const NAMESPACE = "http://www.w3.org/2000/svg";

  const share = (field) => {
    const value = field.value.trim().replace(",", ".");
    return value !== "" && value >= 0 && value <= 1 ? Number(value) : null;
  };

  form.querySelectorAll("[data-points]").forEach((sheet) => {
    const fields = sheet.dataset.points.split(" ").map((name) => form.elements[name]);
    const { width, height } = sheet.viewBox.baseVal;
    const reach = width / 40;
    const marks = [0, 1].map((point) => {
      const mark = document.createElementNS(NAMESPACE, "path");
      mark.setAttribute("class", "comparison__point");
      // the second one is a diagonal cross, so that the two are told apart without colour
      mark.setAttribute("d", point === 0 ? `M${-reach} 0H${reach}M0 ${-reach}V${reach}`
        : `M${-reach} ${-reach}L${reach} ${reach}M${-reach} ${reach}L${reach} ${-reach}`);
      sheet.append(mark);
      return mark;
    });
    let next = 0;

    const show = () => {
      marks.forEach((mark, point) => {
        const x = share(fields[2 * point]);
        const y = share(fields[2 * point + 1]);
        mark.setAttribute("visibility", x !== null && y !== null ? "visible" : "hidden");
        mark.setAttribute("transform", `translate(${(x ?? 0) * width} ${(y ?? 0) * height})`);
      });
    };

    sheet.addEventListener("click", (event) => {
      const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(sheet.getScreenCTM().inverse());
      const within = (value) => Math.min(1, Math.max(0, value)).toFixed(5);
      fields[2 * next].value = within(point.x / width);
      fields[2 * next + 1].value = within(point.y / height);
      next = 1 - next;
      show();
    });
    fields.forEach((field) => field.addEventListener("input", show));
    show();
  });
})();
