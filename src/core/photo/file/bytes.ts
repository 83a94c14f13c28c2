/** Bytes read as signs, each byte one (ISO 8859-1); in pieces, as a call takes only so many arguments. */
export function latin(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return text;
}
