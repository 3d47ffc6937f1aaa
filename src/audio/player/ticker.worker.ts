/** Beats time on a thread of its own, where neither a busy page nor a hidden tab slows it down. */
let timer: ReturnType<typeof setInterval> | undefined;

/** A number of milliseconds starts the beat, null ends it. */
addEventListener('message', ({ data }: MessageEvent<number | null>) => {
  clearInterval(timer);
  if (data !== null) timer = setInterval(() => postMessage(null), data);
});
