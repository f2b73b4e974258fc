import { beamInWords, type Descriptor, detectorInWords, isInvented } from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { wrap } from "./wrap.ts";

/** Digits of a digest that tell two campaigns of one department apart. */
const DIGEST_DIGITS = 12;

/** A digest in short: `sha256:5530387de086…`. */
export function shortDigest(digest: string): string {
  const [algorithm, digits = ""] = digest.split(":");
  return `${algorithm}:${digits.slice(0, DIGEST_DIGITS)}…`;
}

/** Whose campaign it is: title, detector and beam, name and digest; and whether its data were measured at all. */
export function campaignHeader(descriptor: Descriptor, digest: string, { width, ink }: Omit<Page, "print">): string[] {
  const { name, title, alcedo } = descriptor;
  const line = (parts: readonly (string | undefined)[]) =>
    wrap(printable(parts.filter((part) => part !== undefined).join(" · ")), width);
  return [
    ...wrap(printable(title ?? name), width).map((text) => ink.bold(text)),
    ...line([detectorInWords(alcedo.detector), beamInWords(alcedo.beam)]),
    ...line([name, `input ${shortDigest(digest)}`]).map((text) => ink.dim(text)),
    ...(isInvented(descriptor) ? [ink.yellow("▲ INVENTED DATA: measured nowhere, not for use.")] : []),
  ];
}
