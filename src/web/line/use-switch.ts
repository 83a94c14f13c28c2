/** The bound key and the button as one switch: events in, acts out, with the moment at which each began. */
import { useEffect, useMemo, useRef } from "react";
import { type PressAct, pressed, UP } from "./press.ts";

export interface Switch {
  readonly down: () => void;
  readonly up: () => void;
}

export function useSwitch(code: string | null, act: (act: PressAct) => void): Switch {
  const acting = useRef(act);
  acting.current = act;
  const one = useMemo(() => {
    let state = UP;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const tell = (event: "down" | "up" | "time") => {
      const now = Date.now();
      const answer = pressed(state, event, now);
      state = answer.state;
      clearTimeout(timer);
      if (answer.wake !== null) timer = setTimeout(() => tell("time"), Math.max(0, answer.wake - now));
      if (answer.act !== null) acting.current(answer.act);
    };
    return { down: () => tell("down"), up: () => tell("up"), end: () => clearTimeout(timer) };
  }, []);
  useEffect(() => () => one.end(), [one]);
  useEffect(() => {
    if (code === null) return;
    // Before the page's own keys, wherever the focus is: a foot does not know what is chosen.
    const hear = (event: KeyboardEvent) => {
      if (event.code !== code || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      event.stopPropagation();
      if (event.type === "keydown") one.down();
      else one.up();
    };
    const lost = () => one.up();
    addEventListener("keydown", hear, true);
    addEventListener("keyup", hear, true);
    addEventListener("blur", lost);
    return () => {
      removeEventListener("keydown", hear, true);
      removeEventListener("keyup", hear, true);
      removeEventListener("blur", lost);
    };
  }, [code, one]);
  return one;
}
