import type { VisitReading } from "@alcedo-dosimetry/campaign";
import { AskLine } from "./ask-line.tsx";

/** What is asked about the last reading. */
export interface NoteOrReasonProps {
  readonly asks: "reason" | "note";
  readonly reading: VisitReading;
  readonly note: string;
  readonly onCells: (cells: Readonly<Record<string, string>>, why: string) => void;
  readonly onLeave: () => void;
}

/** Why the last reading is left out (an empty answer takes one back that is), or a note on it. */
export function NoteOrReason({ asks, reading: { id, exclude }, note, onCells, onLeave }: NoteOrReasonProps) {
  if (asks === "note")
    return (
      <AskLine
        question={`Note on ${id}:`}
        begin={note}
        onAnswer={(text) => onCells({ note: text }, `note on ${id}`)}
        onLeave={onLeave}
      />
    );
  const isOut = exclude !== undefined;
  return (
    <AskLine
      question={isOut ? `${id} is left out because (write nothing, and it counts again):` : `Leave ${id} out, because:`}
      begin={exclude ?? ""}
      isNeeded={!isOut}
      onAnswer={(reason) =>
        onCells({ exclude: reason }, reason === "" ? `${id} counts again` : `${id} left out: ${reason}`)
      }
      onLeave={onLeave}
    />
  );
}
