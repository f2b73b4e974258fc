import { useKeys } from "../keys/use-keys.ts";

/** What the keys of the console do. */
export interface ConsoleActions {
  readonly onEnter: () => void;
  readonly onLeaveOut: () => void;
  readonly onNote: () => void;
  readonly onCondition: () => void;
  readonly onSetUp: () => void;
  readonly onStep: (by: 1 | -1) => void;
  readonly onEscape: () => void;
}

/** The keys of the console, which has no others: letters that are no part of a number. */
export const CONSOLE_KEYS = [
  { press: "Enter", does: "next channel; after the last one the reading is kept" },
  { press: "Backspace", does: "in an empty field: the channel before, or the last reading, to be corrected" },
  { press: "x", does: "leave the last reading out, with a reason" },
  { press: "n", does: "a note on the last reading" },
  { press: "ArrowDown PageDown", does: "next condition of the run" },
  { press: "ArrowUp PageUp", does: "condition before" },
  { press: "c", does: "another condition, that is new" },
  { press: "s", does: "set-up of the next readings" },
  { press: "Escape", does: "forget what is typed; with nothing typed back to the campaign" },
] as const;

/** Puts them on the list and into force. */
export function useConsoleKeys(actions: ConsoleActions): void {
  const { onEnter, onLeaveOut, onNote, onStep, onCondition, onSetUp, onEscape } = actions;
  const runs = [
    onEnter,
    undefined,
    onLeaveOut,
    onNote,
    () => onStep(1),
    () => onStep(-1),
    onCondition,
    onSetUp,
    onEscape,
  ];
  useKeys(
    "Console",
    CONSOLE_KEYS.map((line, k) => ({ ...line, ...(runs[k] && { run: runs[k] }) })),
  );
}
