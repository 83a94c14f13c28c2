/** Works one after the other, each on what the one before left behind: quick clicks must not lose one another. */
import { useRef } from "react";

export function useInTurn(): <T>(work: () => Promise<T>) => Promise<T> {
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  return (work) => {
    const next = queue.current.then(work);
    queue.current = next.catch(() => undefined);
    return next;
  };
}
