/** A value that changes all the time, taken over at once after a pause and else no more often than so many milliseconds. */
import { useEffect, useRef, useState } from "react";

export function useCalm<T>(value: T, ms: number): T {
  const [shown, setShown] = useState(value);
  const last = useRef(Number.NEGATIVE_INFINITY);
  useEffect(() => {
    const show = () => {
      last.current = performance.now();
      setShown(value);
    };
    const wait = last.current + ms - performance.now();
    if (wait <= 0) return show();
    const timer = setTimeout(show, wait);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return shown;
}
