/* Reads a QR with the camera and sends its text with the form beside it, as if it were typed.
   Without it, or without a camera, the photograph and the field serve. Nothing leaves the device. */
"use strict";
(() => {
  const box = document.getElementById("camera");
  const video = document.getElementById("camera-picture");
  const says = document.getElementById("camera-says");
  const start = document.getElementById("camera-start");
  const form = document.getElementById("code-form");
  const reader = window.BarcodeDetectionAPI;
  if (!box || !reader) return;
  if (!window.isSecureContext || !navigator.mediaDevices) {
    says.textContent = "The camera needs a secure address (https). Take a photograph, or type the code.";
    return;
  }

  const OFTEN_MS = 150;
  const WHY_NOT = {
    NotAllowedError: "The camera is not allowed on this page. Allow it in the browser’s settings, or type the code.",
    NotFoundError: "No camera was found. Take a photograph with a phone, or type the code.",
    NotReadableError: "Another program uses the camera. Close it, or type the code.",
  };
  let stream = null;
  let detector = null;

  function stop() {
    if (stream) stream.getTracks().forEach((track) => track.stop());
    stream = null;
    video.srcObject = null;
    start.textContent = "Use the camera";
  }

  async function look() {
    if (!stream) return;
    let codes = [];
    try {
      codes = await detector.detect(video);
    } catch (problem) {
      stop();
      says.textContent = "Codes cannot be read in this browser. Take a photograph, or type the code.";
      return;
    }
    const found = codes.find((code) => code.rawValue);
    if (found && stream) {
      stop();
      says.textContent = `Read: ${found.rawValue}`;
      form.elements.code.value = found.rawValue;
      form.requestSubmit();
      return;
    }
    setTimeout(look, OFTEN_MS);
  }

  async function begin() {
    if (stream) {
      stop();
      says.textContent = "The camera is off.";
      return;
    }
    start.disabled = true;
    says.textContent = "The camera starts.";
    try {
      stream = await navigator.mediaDevices.getUserMedia({
        audio: false, video: { facingMode: "environment", width: { ideal: 1280 } },
      });
      video.srcObject = stream;
      await video.play();
    } catch (problem) {
      stop();
      says.textContent = WHY_NOT[problem.name] || "The camera could not be started. Take a photograph, or type the code.";
      start.disabled = false;
      return;
    }
    start.disabled = false;
    start.textContent = "Stop the camera";
    says.textContent = "Hold the code within the marks.";
    look();
  }

  reader.prepareZXingModule({
    overrides: { locateFile: (path, prefix) => (path.endsWith(".wasm") ? box.dataset.wasm : prefix + path) },
  });
  detector = new reader.BarcodeDetector({ formats: ["qr_code"] });
  start.disabled = false;
  says.textContent = "Press the button, allow the camera, and hold the code before it.";
  start.addEventListener("click", begin);
  window.addEventListener("pagehide", stop);
  // Who allowed it before need not press again.
  if (navigator.permissions && navigator.permissions.query) {
    navigator.permissions.query({ name: "camera" })
      .then((held) => { if (held.state === "granted") begin(); })
      .catch(() => {});
  }
})();
