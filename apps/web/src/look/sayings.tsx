import { useSyncExternalStore } from "react";
import { Button } from "./button.tsx";
import { dismiss, sayings, watchSayings } from "./saying.ts";
import "./sayings.css";

/**
 * What the page has to say by the way ("kept", "taken back"), in a corner and to those who listen. It stays until it is
 * put away or newer ones push it out: nobody has to read against the clock (WCAG 2.2, 2.2.1).
 */
export function Sayings() {
  const said = useSyncExternalStore(watchSayings, sayings);
  return (
    <div className="sayings" role="status" aria-live="polite">
      {said.map(({ id, words, way }) => (
        <div key={id} className="saying">
          <span>{words}</span>
          {way && (
            <Button
              kind="quiet"
              onPress={() => {
                dismiss(id);
                way.go();
              }}
            >
              {way.words}
            </Button>
          )}
          <Button kind="quiet" aria-label={`put away: ${words}`} onPress={() => dismiss(id)}>
            ×
          </Button>
        </div>
      ))}
    </div>
  );
}
