(function () {
  "use strict";
  var root = document.documentElement, drawing = document.getElementById("drawing"), main = document.querySelector("main");
  var box = drawing.viewBox.baseVal, scale = 1, at = -1, found = [];
  var cards = Array.prototype.slice.call(document.querySelectorAll(".card"));
  var search = document.getElementById("search"), told = document.getElementById("told");
  root.classList.add("js");
  function zoom(to) {
    var x = (main.scrollLeft + main.clientWidth / 2) / scale, y = (main.scrollTop + main.clientHeight / 2) / scale;
    scale = Math.min(3, Math.max(0.04, to));
    drawing.setAttribute("width", box.width * scale);
    drawing.setAttribute("height", box.height * scale);
    main.scrollLeft = x * scale - main.clientWidth / 2;
    main.scrollTop = y * scale - main.clientHeight / 2;
  }
  function show(card) {
    if (card) { card.scrollIntoView({ block: "center", inline: "center" }); near(card.id); }
  }
  function near(id) {
    document.querySelectorAll(".line").forEach(function (line) {
      line.classList.toggle("near", line.dataset.from === id || line.dataset.to === id);
    });
  }
  function find() {
    var words = search.value.trim().toLowerCase();
    found = words ? cards.filter(function (card) { return card.dataset.words.indexOf(words) >= 0; }) : [];
    at = -1;
    cards.forEach(function (card) { card.classList.toggle("found", found.indexOf(card) >= 0); });
    drawing.classList.toggle("searching", words !== "");
    told.textContent = words ? found.length + " of " + cards.length + " nodes; Enter shows the next" : "";
  }
  search.addEventListener("input", find);
  search.addEventListener("keydown", function (event) {
    if (event.key === "Enter" && found.length) {
      at = (at + (event.shiftKey ? found.length - 1 : 1)) % found.length;
      if (scale < 0.5) { zoom(1); }
      show(found[at]);
      told.textContent = (at + 1) + " of " + found.length;
    }
    if (event.key === "Escape") { search.value = ""; find(); }
  });
  document.getElementById("fit").addEventListener("click", function () {
    zoom(Math.min(main.clientWidth / box.width, main.clientHeight / box.height));
  });
  document.getElementById("wide").addEventListener("click", function () { zoom(main.clientWidth / box.width); });
  document.getElementById("whole").addEventListener("click", function () { zoom(1); });
  document.getElementById("more").addEventListener("click", function () { zoom(scale * 1.25); });
  document.getElementById("less").addEventListener("click", function () { zoom(scale / 1.25); });
  drawing.addEventListener("focusin", function (event) {
    var card = event.target.closest(".card");
    if (card) { near(card.id); }
  });
  function turn() { show(document.getElementById(decodeURI(location.hash.slice(1))) || document.getElementById(location.hash.slice(1))); }
  window.addEventListener("hashchange", turn);
  if (location.hash) {
    turn();
  } else {
    document.getElementById(root.dataset.start).scrollIntoView({ block: "center", inline: "center" });
    main.scrollTop = 0;
  }
})();
