import type { ReactNode } from "react";
import { type Play, START } from "./play.ts";

/** One thing to learn: what to read, and what to try. */
export interface Chapter {
  readonly id: string;
  readonly title: string;
  readonly text: ReactNode;
  /** How the virtual fibre lies when the chapter is opened. */
  readonly begin: Play;
  /** Things to try, each at a press. */
  readonly tries: readonly { readonly words: string; readonly play: Partial<Play> }[];
  /** What to look at. */
  readonly look: string;
  /** The part of the board that it is about, which is shown first. */
  readonly first: "ways" | "lights" | "plane" | "findings";
}

/** From what is wrong with the light to what can go wrong with the cure. */
export const CHAPTERS: readonly Chapter[] = [
  {
    id: "stem",
    title: "The fibre glows too",
    text: (
      <>
        <p>
          The tip scintillates: its light follows the dose where it stands. But the beam also hits the fibre that leads
          the light away, and that glows as well, mostly by the Cherenkov effect. The reader cannot tell whose light it
          is.
        </p>
        <p>
          Move fibre into the beam. The dose at the tip stays what it was; both channels rise all the same. Whoever
          reads one of them reads the fibre's length.
        </p>
      </>
    ),
    begin: { ...START, fibre_mm: 60 },
    tries: [
      { words: "60 mm in the beam", play: { fibre_mm: 60 } },
      { words: "300 mm", play: { fibre_mm: 300 } },
      { words: "600 mm", play: { fibre_mm: 600 } },
    ],
    look: "The pale part of each bar: light of the stem.",
    first: "lights",
  },
  {
    id: "plane",
    title: "Two colours tell them apart",
    text: (
      <>
        <p>
          Stem light has a colour of its own. More of it adds to blue and to green in a fixed proportion, the stem ratio
          ρ: so readings of one dose lie on a straight line in the plane of the two channels, however the fibre lies.
        </p>
        <p>
          Two arrangements fix the line: little fibre and much. What blue reads where the line meets no green, blue − ρ
          · green, is light of the tip alone. A third arrangement, kept aside, proves it: does it lie on the line?
        </p>
      </>
    ),
    begin: START,
    tries: [
      { words: "move along the line", play: { fibre_mm: 500 } },
      { words: "and back", play: { fibre_mm: 300 } },
      { words: "two arrangements nearly alike", play: { much_mm: 80 } },
      { words: "far apart", play: { much_mm: 600 } },
    ],
    look: "The plane: your point slides along the line. With two arrangements alike, the band widens and ρ is anybody's guess.",
    first: "plane",
  },
  {
    id: "small",
    title: "Why small fields need it",
    text: (
      <>
        <p>
          A field of 10 mm covers a few millimetres of fibre, the reference field of 100 mm covers 50. So a reading in
          the reference holds more stem light than one in the small field, and their ratio comes out too low: by a sixth
          in a field of 10 mm, and nothing in the readings of one channel shows it.
        </p>
        <p>
          Where both see the same length of fibre, the fault cancels, and one channel would have done. Nobody needs a
          method for that field.
        </p>
      </>
    ),
    begin: { ...START, side_mm: 10 },
    tries: [
      { words: "5 mm", play: { side_mm: 5 } },
      { words: "20 mm", play: { side_mm: 20 } },
      { words: "80 mm", play: { side_mm: 80 } },
    ],
    look: "The output factor: blue alone beside the corrected one, and the true one, which only a simulation knows.",
    first: "ways",
  },
  {
    id: "age",
    title: "The fibre ages",
    text: (
      <>
        <p>
          Dose discolours plastic, and the blue end of the spectrum first. Less light arrives, and that of the stem
          changes its colour: the stem ratio moves. A separation from the first day then takes the wrong share away.
        </p>
        <p>
          The loss of light alone would not matter in a ratio of two readings of one night. The change of colour does,
          wherever the two lean on the stem ratio unequally. That is why a characterisation has an age, and goes stale.
        </p>
      </>
    ),
    begin: { ...START, dose_Gy: 3000 },
    tries: [
      { words: "new", play: { dose_Gy: 0 } },
      { words: "1 kGy", play: { dose_Gy: 1000 } },
      { words: "4 kGy", play: { dose_Gy: 4000 } },
    ],
    look: "Output factor with the ratio of the first day against that of today; stem ratio and dose per light, then and now.",
    first: "ways",
  },
  {
    id: "fails",
    title: "When it fails",
    text: (
      <>
        <p>
          The method rests on three things: equal dose in the arrangements that are compared, stem light of one colour,
          and knowing which channel is which. Break one, and the figures still look like figures.
        </p>
        <p>
          The arrangement that was kept aside is what notices. Without it the line goes through its two points whatever
          they are, and agrees with itself: untested.
        </p>
      </>
    ),
    begin: { ...START, slip: "dose-unequal" },
    tries: [
      { words: "unequal dose", play: { slip: "dose-unequal" } },
      { words: "another angle to the beam", play: { slip: "fibre-angle-changed" } },
      { words: "channels swapped", play: { slip: "channels-swapped" } },
      { words: "nothing wrong", play: { slip: "none" } },
    ],
    look: "What the program notices, and what becomes of the output factor meanwhile.",
    first: "findings",
  },
];
