import type { Ink } from "./page.ts";

/** The ink of a light channel: blue and green keep their own colour everywhere, others have none. */
export function channelInk(channel: string, ink: Ink): (text: string) => string {
  if (/blue|violet/.test(channel)) return ink.blueBright;
  if (/green/.test(channel)) return ink.green;
  return (text) => text;
}
