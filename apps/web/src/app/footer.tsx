import { CAUTIONS } from "@alcedo-dosimetry/campaign";
import "./footer.css";

/** The cautions, wherever results are shown. */
export function Footer({ simulated = false }: { readonly simulated?: boolean }) {
  return (
    <footer className="footer">
      {simulated && (
        <p>
          <strong>Everything here is invented</strong>, for demonstration: do not use any of these figures.
        </p>
      )}
      <p>{CAUTIONS}</p>
    </footer>
  );
}
