import type { AnchorHTMLAttributes, MouseEvent } from "react";
import { go } from "./router.ts";

/** A link within the app. New tabs and copied addresses work as with any other. */
export function Link({ href, onClick, ...rest }: AnchorHTMLAttributes<HTMLAnchorElement> & { readonly href: string }) {
  const follow = (event: MouseEvent<HTMLAnchorElement>) => {
    onClick?.(event);
    if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    go(href);
  };
  return <a href={href} onClick={follow} {...rest} />;
}
