/* Lets the minutes of the anaesthetic cream go on while the page is open. The times themselves are kept by the service; a
   reload shows the same. */
(() => {
  "use strict";

  const clock = document.querySelector("[data-numbing-seconds]");
  const minutes = clock && clock.querySelector("[data-minutes]");
  if (!minutes) {
    return;
  }

  const begun = Date.now() - Number(clock.dataset.numbingSeconds) * 1000;
  const show = () => {
    minutes.textContent = String(Math.max(0, Math.floor((Date.now() - begun) / 60000)));
  };
  window.setInterval(show, 5000);
  document.addEventListener("visibilitychange", show);
})();
