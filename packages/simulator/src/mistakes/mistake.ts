import type { Descriptor } from "@alcedo-dosimetry/campaign";
import type { Laboratory } from "../laboratory.ts";
import type { RandomStream } from "../random-stream.ts";
import type { Sheet } from "../sheet.ts";
import type { Shot } from "../shot.ts";
import type { Place } from "../truth.ts";

/** What a mistake is made with. */
export interface Circumstances {
  readonly laboratory: Laboratory;
  readonly size: number;
  /** The mistake's own numbers: which reading, which field. */
  readonly random: RandomStream;
}

/** What a mistake makes of something, and where it was made. */
export interface Spoilt<T> {
  readonly made: T;
  readonly places: readonly Place[];
}

/** What lies on the desk when all readings are written down. */
export interface Papers {
  readonly descriptor: Descriptor;
  readonly sheets: readonly Sheet[];
}

/** A kind of mistake. It is made in the laboratory's set-up, with the beam on, or on the papers. */
export interface Mistake {
  /** What was done. */
  readonly what: string;
  /** What its size means, with the unit, and a usual one; absent where there is nothing to measure. */
  readonly size?: { readonly meaning: string; readonly usual: number };
  readonly rebuild?: (laboratory: Laboratory, size: number) => Spoilt<Laboratory>;
  readonly spoil?: (shots: readonly Shot[], circumstances: Circumstances) => Spoilt<readonly Shot[]>;
  readonly mistype?: (papers: Papers, circumstances: Circumstances) => Spoilt<Papers>;
}

/** Gives a catalogue its type without losing its keys. */
export function catalogue<K extends string>(mistakes: Readonly<Record<K, Mistake>>): Readonly<Record<K, Mistake>> {
  return mistakes;
}
