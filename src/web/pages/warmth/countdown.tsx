/**
 * The clock on the bench: large digits that count each piece of the plan down, a tone at its end that can be turned off,
 * and nothing that goes on by itself: a device is lifted off by a hand, and the clock waits and counts what is over.
 */
import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Piece } from "../../../core/heat/index.ts";
import { clockWords, type Phase, phasesOf } from "./phases.ts";

/** A tone of the page's own; a browser without sound stays silent. */
function useTone(on: boolean): (high: boolean) => void {
  const audio = useRef<AudioContext | null>(null);
  useEffect(() => () => void audio.current?.close(), []);
  return useCallback(
    (high: boolean) => {
      if (!on || typeof AudioContext === "undefined") return;
      audio.current ??= new AudioContext();
      const context = audio.current;
      const [oscillator, gain] = [context.createOscillator(), context.createGain()];
      const length = high ? 0.7 : 0.12;
      oscillator.frequency.value = high ? 1320 : 880;
      gain.gain.setValueAtTime(0.2, context.currentTime);
      gain.gain.exponentialRampToValueAtTime(0.001, context.currentTime + length);
      oscillator.connect(gain).connect(context.destination);
      oscillator.start();
      oscillator.stop(context.currentTime + length);
    },
    [on],
  );
}

export function BenchClock(props: {
  readonly pieces: readonly Piece[];
  /** Told while the first heating and what follows it run: s since its beginning. */
  readonly follow: (seconds: number) => void;
}) {
  const { pieces, follow } = props;
  const phases = useMemo(() => phasesOf(pieces), [pieces]);
  const [at, setAt] = useState<number | null>(null);
  const [since, setSince] = useState(0);
  const [now, setNow] = useState(0);
  const [sound, setSound] = useState(true);
  const tone = useTone(sound);
  const told = useRef(-1);
  const running = at !== null;
  const phase: Phase | undefined = at === null ? phases[0] : phases[at];

  useEffect(() => {
    if (!running) return;
    const timer = setInterval(() => setNow(performance.now()), 100);
    return () => clearInterval(timer);
  }, [running]);

  const elapsed = running ? Math.max(0, (now - since) / 1000) : 0;
  const left = (phase?.seconds ?? 0) - elapsed;
  const whole = Math.ceil(left - 1e-9);
  useEffect(() => {
    if (!running || whole === told.current) return;
    told.current = whole;
    if (whole <= 5 && whole > 0) tone(false);
    else if (whole === 0 || (whole < 0 && whole % 5 === 0)) tone(true);
  }, [running, whole, tone]);
  useEffect(() => {
    if (at !== null && at < 2) follow((phases[at]?.from ?? 0) + elapsed);
  }, [at, elapsed, follow, phases]);

  const begin = (index: number) => {
    const time = performance.now();
    setSince(time);
    setNow(time);
    told.current = -1;
    setAt(index);
    if (index === 0) tone(false);
  };
  if (phase === undefined) return null;
  const next = at === null ? undefined : phases[at + 1];
  return (
    <section className={left < 0 ? "clock over" : "clock"} aria-label="Clock on the bench">
      <div className="what" role="status">
        {at === null ? `First: ${phase.words}` : left < 0 ? phase.over : phase.words}
        <span className="soft"> {at === null ? "" : `${at + 1} of ${phases.length}`}</span>
      </div>
      <div className="digits" role="timer" aria-live="off">
        {clockWords(at === null ? phase.seconds : left)}
      </div>
      <div className="row">
        {at === null ? (
          <button type="button" className="button" onClick={() => begin(0)}>
            start at the first contact
          </button>
        ) : (
          <>
            <button type="button" className="button" onClick={() => (next === undefined ? setAt(null) : begin(at + 1))}>
              {phase.done}
            </button>
            <button type="button" className="button" onClick={() => setAt(null)}>
              break off
            </button>
          </>
        )}
        <button type="button" className="button" aria-pressed={sound} onClick={() => setSound(!sound)}>
          {sound ? "sound is on" : "sound is off"}
        </button>
        <span className="soft">{next === undefined ? "" : `then ${next.words}, ${clockWords(next.seconds)}`}</span>
      </div>
    </section>
  );
}
