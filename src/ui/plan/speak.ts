/** The longest a cue may take, ms: where a voice never ends, practice goes on. */
const LONGEST = 8000;

/** Says words with a voice of this device, none of which needs a network; at once where there is no such voice. */
export function speak(words: string): Promise<void> {
  if (!('speechSynthesis' in window)) return Promise.resolve();
  const voices = speechSynthesis.getVoices().filter(({ localService }) => localService);
  const voice = voices.find(({ lang }) => lang.startsWith('en')) ?? voices[0];
  if (voice === undefined) return Promise.resolve();
  return new Promise((resolve) => {
    const saying = new SpeechSynthesisUtterance(words);
    saying.voice = voice;
    const timer = setTimeout(done, LONGEST);
    function done() {
      clearTimeout(timer);
      resolve();
    }
    saying.onend = done;
    saying.onerror = done;
    speechSynthesis.cancel();
    speechSynthesis.speak(saying);
  });
}
