// What takes long: started, watched as it goes on, stopped.

/**
 * Start a job and watch it; gives a function that stops it.
 * `told` hears how it stands at each change: stage, says, share, facts, over.
 */
export function start(asked, told) {
  let source = null;
  let name = "";
  let stopped = false;
  const stop = () => {
    stopped = true;
    source?.close();
    if (name) fetch(`/jobs/${name}/stop`, { method: "POST", keepalive: true }).catch(() => {});
  };
  const failed = (says) => {
    if (!stopped) told({ stage: "failed", says, share: null, facts: {}, over: true }, name);
  };
  const begin = async () => {
    const answer = await fetch("/jobs", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(asked),
    });
    if (!answer.ok) throw new Error(await answer.text());
    name = (await answer.json()).job;
    if (stopped) return stop();
    source = new EventSource(`/jobs/${name}/events`);
    source.onmessage = (event) => {
      const state = JSON.parse(event.data);
      if (state.over) source.close();
      if (!stopped) told(state, name);
    };
    source.onerror = () => {
      // A connection that broke is taken up again by the browser; one that was refused is not.
      if (source.readyState === EventSource.CLOSED) failed("The program does not answer any more.");
    };
  };
  begin().catch((problem) => failed(`The program did not answer: ${problem.message}`));
  return stop;
}

/** Where what came of a job is had. */
export const resultOf = (name) => `/jobs/${name}/result`;

/** Show a job in its place in the page; gives a function that starts one there. */
export function jobPlace(place, done) {
  const [status, bar] = [place.querySelector("[role=status]"), place.querySelector("progress")];
  const [stopIt, had, over] = ["[data-stop]", "[data-had]", "[data-over]"].map((one) => place.querySelector(one));
  let stop = null;
  const end = () => {
    stop = null;
    stopIt.hidden = bar.hidden = true;
  };
  const show = (state, name) => {
    place.className = `job ${state.stage}`;
    if (status.textContent !== state.says) status.textContent = state.says || "Getting ready";
    if (state.share === null) bar.removeAttribute("value");
    else bar.value = state.share;
    if (!state.over) return;
    end();
    done(state, name, { status, had, over });
  };
  stopIt?.addEventListener("click", () => {
    stop?.();
    end();
    place.className = "job stopped";
    status.textContent = "Stopped; nothing was made.";
    place.tabIndex = -1;
    place.focus();
  });
  addEventListener("pagehide", () => stop?.());
  return (asked) => {
    stop?.();
    place.hidden = stopIt.hidden = bar.hidden = false;
    if (had) had.hidden = true;
    if (over) over.hidden = true;
    bar.removeAttribute("value");
    status.textContent = "Getting ready";
    place.className = "job waiting";
    place.scrollIntoView({ block: "nearest" });
    stop = start(asked, show);
  };
}
