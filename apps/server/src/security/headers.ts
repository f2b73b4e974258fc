import type { FastifyHelmetOptions } from "@fastify/helmet";

/** The page and its assets, and nothing from anywhere else; no script or style but in files of the server's own. */
export const PAGE_POLICY = {
  "default-src": ["'none'"],
  "script-src": ["'self'"],
  "style-src": ["'self'"],
  "img-src": ["'self'", "data:", "blob:"],
  "font-src": ["'self'"],
  "connect-src": ["'self'"],
  "worker-src": ["'self'"],
  // the preview of a document, which bears its own, stricter policy
  "frame-src": ["'self'"],
  "form-action": ["'none'"],
  "frame-ancestors": ["'none'"],
  "base-uri": ["'none'"],
} as const;

/** A document that is shown: its own style and figures, no script at all, and no way to the server's origin; in a frame of the page's alone. */
export const DOCUMENT_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; form-action 'none'; frame-ancestors 'self'; base-uri 'none'; sandbox";

/**
 * The headers that every answer bears.
 *
 * @param secure whether people reach the server by HTTPS
 */
export function securityHeaders(secure: boolean): FastifyHelmetOptions {
  return {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: Object.fromEntries(Object.entries(PAGE_POLICY).map(([name, values]) => [name, [...values]])),
    },
    crossOriginEmbedderPolicy: false,
    referrerPolicy: { policy: "no-referrer" },
    xFrameOptions: { action: "deny" },
    strictTransportSecurity: secure ? { maxAge: 31_536_000 } : false,
  };
}
