import type { CellConflict } from "@alcedo-dosimetry/campaign";
import type { Book } from "../../book/book.ts";
import { Button } from "../../look/button.tsx";
import { FindingMark } from "../../look/finding-note.tsx";
import "./conflict-notes.css";

/** Cells that two people changed at once, each with both values; theirs stands until somebody chooses. */
export function ConflictNotes({
  conflicts,
  book,
}: {
  readonly conflicts: readonly CellConflict[];
  readonly book: Book;
}) {
  if (conflicts.length === 0) return null;
  return (
    <section className="conflicts" aria-labelledby="conflicts-title">
      <h2 id="conflicts-title">
        <FindingMark level="warning" />{" "}
        {conflicts.length === 1 ? "One cell was changed" : `${conflicts.length} cells were changed`} by somebody else as
        well
      </h2>
      <p>What the other person entered stands now. Choose which value is right.</p>
      <ul>
        {conflicts.map((conflict) => {
          const { table, reading, column, base, mine, theirs } = conflict;
          const place = [table, reading, column].filter((part) => part !== "").join(", ");
          return (
            <li key={`${table}/${reading}/${column}`} className="conflict">
              <span className="conflict-place">{place}</span>
              <span className="muted">was {shown(base)}</span>
              <Button
                aria-label={`${place}: take mine, ${shown(mine)}`}
                onPress={() => book.choose(conflict, "mine")}
                isDisabled={mine === undefined || reading === ""}
              >
                mine: <span className="number">{shown(mine)}</span>
              </Button>
              <Button
                aria-label={`${place}: leave theirs, ${shown(theirs)}`}
                onPress={() => book.choose(conflict, "theirs")}
              >
                theirs: <span className="number">{shown(theirs)}</span>
              </Button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

const shown = (text: string | undefined) => (text === undefined ? "not there" : text === "" ? "empty" : text);
