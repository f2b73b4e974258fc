import { useEffect, useState, useSyncExternalStore } from "react";
import { Dialog } from "../../look/dialog.tsx";
import { keyGroups, lineFor, watchKeys } from "./key-registry.ts";
import { Presses } from "./presses.tsx";
import { useKeys } from "./use-keys.ts";
import "./keys-dialog.css";

/** Whether typing goes into something: then letters are letters, but for fields of numbers that let the keys through. */
const isField = (target: EventTarget | null) =>
  target instanceof HTMLElement &&
  (target.matches("input:not([data-keys-through], [type=range]), textarea, select") || target.isContentEditable);

/** Listens for the keys on the list, and shows the list at `?`. The shell has it once. */
export function KeysDialog() {
  const [isOpen, setOpen] = useState(false);
  const groups = useSyncExternalStore(watchKeys, keyGroups);
  useKeys(
    "Everywhere",
    [
      { press: "?", does: "show or hide this list", run: () => setOpen((open) => !open) },
      { press: "Tab Shift+Tab", does: "to the next control, to the one before" },
      { press: "Enter", does: "press what is in focus" },
    ],
    true,
  );
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.isComposing) return;
      const line = lineFor(event, isField(event.target));
      // while a sheet lies over the page, the page does not answer
      const covered = document.querySelector("[data-keys-cover], [role=dialog], [role=alertdialog]") !== null;
      if (!line || (covered && line.press !== "?")) return;
      event.preventDefault();
      line.run?.();
    };
    window.addEventListener("keydown", listen);
    return () => window.removeEventListener("keydown", listen);
  }, []);
  return (
    <Dialog title="Keys" isOpen={isOpen} onClose={() => setOpen(false)} wide>
      <div className="keys">
        {groups.toReversed().map(({ title, lines }) => (
          <section key={title} aria-label={title}>
            <h3>{title}</h3>
            <dl className="keys-list">
              {lines.map(({ press, does }) => (
                <div key={press} className="keys-line">
                  <dt>
                    <Presses press={press} />
                  </dt>
                  <dd>{does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Dialog>
  );
}
