"use strict";
// Says at once whether a reading is inside its window, and saves what was read as the file that `locate` reads.
(function () {
  function number(field) {
    var text = field.value.trim().replace(",", ".").replace("\u2212", "-");
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : NaN;
  }
  var offset = Number(document.querySelector("table.levels").dataset.offset);
  var fields = Array.from(document.querySelectorAll("input[data-low]"));
  fields.forEach(function (field) {
    field.addEventListener("input", function () {
      var read = number(field), low = Number(field.dataset.low), high = Number(field.dataset.high);
      // What the window shows is rounded to tenths, so a reading on its edge is inside.
      var word = field.value.trim() === "" ? "" : isNaN(read) ? "? number" : read < low ? "\u25bc low by " + (low - read).toFixed(1) : read > high ? "\u25b2 high by " + (read - high).toFixed(1) : "\u2713 inside";
      field.parentNode.querySelector("output").textContent = word;
    });
  });
  function quoted(text) {
    return '"' + text.replace(/"/g, '""') + '"';
  }
  function readings() {
    var lines = ["at,mhz,dbmv"];
    fields.forEach(function (field) {
      var read = number(field);
      if (field.dataset.at !== undefined && !isNaN(read)) {
        lines.push(quoted(field.dataset.at) + "," + field.dataset.mhz + "," + Number((read - offset).toFixed(3)));
      }
    });
    return lines.join("\n") + "\n";
  }
  document.getElementById("save").addEventListener("click", function () {
    var text = readings(), count = text.split("\n").length - 2, said = document.getElementById("said");
    if (count === 0) {
      said.textContent = "nothing was read yet";
      return;
    }
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
    link.download = "readings.csv";
    link.click();
    said.textContent = count + " saved";
  });
})();
