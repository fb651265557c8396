/** Contrast in all three themes, computed from tokens.css as WCAG 2.2 defines it: text at least 7:1, borders and marks at least 3:1. */
import { drawn, hexOf, ratio, read, themes } from '../../tests/support/contrast.ts';

let failed = false;
for (const [name, theme] of Object.entries(themes())) {
  const least = (pairs: readonly (readonly [string, string])[]) =>
    Math.min(...pairs.map(([a, b]) => ratio(hexOf(theme, a), hexOf(theme, b))));
  const [text, marks] = [least(read), least(drawn)];
  const holds = text >= 7 && marks >= 3;
  console.log(
    `${holds ? 'holds' : 'DOES NOT HOLD'}  ${name}: text at least ${text.toFixed(2)}:1 (7), borders and marks ${marks.toFixed(2)}:1 (3)`,
  );
  failed ||= !holds;
}
process.exit(failed ? 1 : 0);
