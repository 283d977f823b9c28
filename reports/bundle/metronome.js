// The metronome and clock of the step test. Without it the page gives the rate, and any metronome serves.
const feet = ["up", "up", "down", "down"];

for (const box of document.querySelectorAll(".metronome")) {
  const { beats, step, count } = box.dataset;
  const clock = box.querySelector(".clock"), foot = box.querySelector(".foot"), now = box.querySelector(".now");
  let sound, timer;
  box.hidden = false;

  const click = (at, strong) => {
    const tone = sound.createOscillator(), loud = sound.createGain();
    tone.frequency.value = strong ? 1200 : 800;
    loud.gain.setValueAtTime(0.4, at);
    loud.gain.exponentialRampToValueAtTime(0.001, at + 0.06);
    tone.connect(loud).connect(sound.destination);
    tone.start(at);
    tone.stop(at + 0.07);
  };
  const left = (s) => `${Math.floor(s / 60)}:${String(Math.floor(s % 60)).padStart(2, "0")}`;
  const say = (text) => { if (now.textContent !== text) now.textContent = text; };

  const end = (text) => {
    clearInterval(timer);
    timer = undefined;
    if (sound) sound.close();
    sound = undefined;
    foot.textContent = "";
    say(text);
  };

  // Beats are handed to the sound card ahead of time, since a page's timers are late by some hundredths of a second.
  const start = () => {
    end("");
    sound = new AudioContext();
    const began = sound.currentTime + 3, every = 60 / beats;
    let next = 0;
    timer = setInterval(() => {
      const t = sound.currentTime - began;
      while (next * every < step && next * every < t + 0.3) {
        click(began + next * every, next % 4 === 0);
        next++;
      }
      if (t < 0) {
        clock.textContent = left(Math.ceil(-t));
        say("Get ready.");
      } else if (t < step) {
        clock.textContent = left(Math.ceil(step - t));
        foot.textContent = feet[Math.floor(t / every) % 4];
        say("Step. Stop at once if any stop sign appears.");
      } else if (t < Number(step) + 5) {
        clock.textContent = left(Math.ceil(Number(step) + 5 - t));
        foot.textContent = "";
        say("Sit down at once. Find the pulse.");
      } else if (t < Number(step) + 5 + Number(count)) {
        clock.textContent = left(Math.ceil(Number(step) + 5 + Number(count) - t));
        say("Count every beat.");
      } else {
        clock.textContent = "0:00";
        end("Stop counting. Enter the number of heartbeats below.");
      }
    }, 50);
  };
  box.querySelector("[data-start]").addEventListener("click", start);
  box.querySelector("[data-stop]").addEventListener("click", () => end("Stopped."));
}
