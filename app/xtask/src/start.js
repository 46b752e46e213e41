// Starts the program from the bytes in this very script: nothing is fetched, so it runs from a file on disk as well.
(function () {
  "use strict";
  function tell(name, detail) {
    window.dispatchEvent(new CustomEvent(name, { detail: detail }));
  }
  if (typeof DecompressionStream !== "function") {
    tell("LikenessFailed", "it can't unpack the program (DecompressionStream is missing): it is too old");
    return;
  }
  var packed = Uint8Array.from(atob("@PACKED@"), function (letter) { return letter.charCodeAt(0); });
  var unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  new Response(unpacked).arrayBuffer()
    .then(function (bytes) { return wasm_bindgen({ module_or_path: bytes }); })
    .then(function () { tell("LikenessStarted"); }, function (reason) { tell("LikenessFailed", reason); });
})();
