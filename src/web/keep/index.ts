/**
 * Nothing lost: every edit of the app goes through here. An edit is in the browser's outbox before it is shown, and on
 * its way to the server at once; with the server gone it waits there, through reloads, and catches up. Photographs lie
 * there as well, and are with the server before the edit that names them.
 */

export { KeptState, ToSettle } from "./kept-state.tsx";
export type { WaitingPicture } from "./outbox.ts";
export { mediaAddress, mediaContent, waitingPicture } from "./pictures.ts";
export type { UseKeep } from "./use-keep.tsx";
export { KeepProvider, useEdit, useKeep, useKeeper } from "./use-keep.tsx";
