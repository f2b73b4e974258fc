import { eventSchema, type LiveEvent, ROUTES } from "@alcedo-dosimetry/protocol";

/** What the page hears from the server. */
export interface Live {
  /** Every event as it happens. */
  onEvent(hear: (event: LiveEvent) => void): () => void;
  /** The connection is there (again): whatever happened meanwhile was not heard, and must be asked for. */
  onConnect(hear: () => void): () => void;
  close(): void;
}

/** Listens to the server's events; the browser connects again by itself when the connection breaks. */
export function listen(open: (address: string) => EventSource = (address) => new EventSource(address)): Live {
  const hearers = new Set<(event: LiveEvent) => void>();
  const connects = new Set<() => void>();
  let source: EventSource | undefined;
  const start = () => {
    source = open(ROUTES.events.path);
    source.onopen = () => {
      for (const hear of connects) hear();
    };
    source.onmessage = ({ data }: MessageEvent<string>) => {
      const said = eventSchema.safeParse(JSON.parse(data));
      if (!said.success) return; // a newer server says more than this page knows
      for (const hear of hearers) hear(said.data);
    };
    source.onerror = () => {
      // a browser gives up for good when it is refused (nobody logged in, the server starting): try again by and by
      if (source?.readyState !== EventSource.CLOSED) return;
      source = undefined;
      setTimeout(() => !closed && start(), 3_000);
    };
  };
  let closed = false;
  start();
  return {
    onEvent: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    onConnect: (hear) => {
      connects.add(hear);
      return () => connects.delete(hear);
    },
    close: () => {
      closed = true;
      source?.close();
    },
  };
}
