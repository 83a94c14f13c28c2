import { useEffect, useId, useRef, useState } from "react";
import { SceneView, type SceneViewProps } from "../../draw/scene-view.tsx";
import type { Scene } from "../../figures/index.ts";

/** Width of an element in px, followed as it changes. */
export function useWidth(): readonly [(element: HTMLElement | null) => void, number] {
  const [width, setWidth] = useState(0);
  const observer = useRef<ResizeObserver | null>(null);
  const attach = useRef((element: HTMLElement | null) => {
    observer.current?.disconnect();
    if (element === null) return;
    observer.current = new ResizeObserver(([entry]) => setWidth(Math.floor(entry!.contentRect.width)));
    observer.current.observe(element);
  });
  useEffect(() => () => observer.current?.disconnect(), []);
  return [attach.current, width];
}

/** An id that may stand in url(#…). */
export function usePictureId(): string {
  return `p${useId().replace(/\W/g, "")}`;
}

/** A picture that is drawn for the width there is, so that letters keep their size. */
export function Picture({
  draw,
  most,
  caption,
  ...rest
}: {
  readonly draw: (width: number) => Scene;
  readonly most: number;
  readonly caption?: string;
} & Pick<SceneViewProps, "decorate" | "svg">) {
  const [attach, width] = useWidth();
  const id = usePictureId();
  const scene = width < 40 ? null : draw(Math.min(width, most));
  return (
    <figure className="picture" ref={attach}>
      {scene === null ? null : (
        <div style={{ maxWidth: scene.width }}>
          <SceneView scene={scene} id={id} {...rest} />
        </div>
      )}
      {caption === undefined ? null : <figcaption className="soft">{caption}</figcaption>}
    </figure>
  );
}
