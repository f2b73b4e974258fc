import type { Laboratory } from "../laboratory.ts";
import { AT_THE_KEYBOARD } from "./at-the-keyboard.ts";
import { IN_THE_BEAM } from "./in-the-beam.ts";
import { IN_THE_FIBRE } from "./in-the-fibre.ts";
import { IN_THE_NOTES } from "./in-the-notes.ts";
import { IN_THE_READER } from "./in-the-reader.ts";
import type { Mistake } from "./mistake.ts";

/** The kinds of mistakes that can be made. */
export type MistakeKind =
  | keyof typeof IN_THE_BEAM
  | keyof typeof IN_THE_FIBRE
  | keyof typeof IN_THE_READER
  | keyof typeof AT_THE_KEYBOARD
  | keyof typeof IN_THE_NOTES;

/** Every mistake by its kind: what was done, and what its size means. */
export const MISTAKES: Readonly<Record<MistakeKind, Mistake>> = {
  ...IN_THE_BEAM,
  ...IN_THE_FIBRE,
  ...IN_THE_READER,
  ...AT_THE_KEYBOARD,
  ...IN_THE_NOTES,
};

/** Looks a mistake up by its kind. @throws RangeError naming the kinds there are. */
export function mistakeOf(kind: string): Mistake {
  const found = Object.hasOwn(MISTAKES, kind) ? MISTAKES[kind as MistakeKind] : undefined;
  if (!found) throw new RangeError(`no mistake is called ${kind}; there are ${Object.keys(MISTAKES).join(", ")}`);
  return found;
}

/**
 * The same laboratory with a mistake made in each of its campaigns. Seed by seed the rest of the campaign stays as it was.
 *
 * @param size in the unit that {@link MISTAKES} states; the usual one unless given.
 * @throws RangeError for an unknown kind, or a size that is no number or that the mistake does not have.
 */
export function withMistake(laboratory: Laboratory, kind: MistakeKind, size?: number): Laboratory {
  const { size: scale } = mistakeOf(kind);
  if (size !== undefined && !scale) throw new RangeError(`the mistake ${kind} has no size, but ${size} was given`);
  const own = size ?? scale?.usual ?? 1;
  if (!Number.isFinite(own))
    throw new RangeError(`the size of the mistake ${kind} must be a finite number, not ${own}`);
  return { ...laboratory, mistakes: [...laboratory.mistakes, { kind, size: own }] };
}
