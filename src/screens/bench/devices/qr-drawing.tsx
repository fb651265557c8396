import { create } from 'qrcode';

const QUIET = 4;

/** A QR symbol (ISO/IEC 18004, error correction M) with its quiet zone, ink on paper in every theme so that a camera reads it. */
export function QrDrawing({ payload, label }: { payload: string; label: string }) {
  const { modules } = create(payload, { errorCorrectionLevel: 'M' });
  const side = modules.size + 2 * QUIET;
  const path = Array.from({ length: modules.size }, (_, row) =>
    Array.from({ length: modules.size }, (_, column) =>
      modules.get(row, column) === 0 ? '' : `M${column + QUIET} ${row + QUIET}h1v1h-1z`,
    ).join(''),
  ).join('');
  return (
    <svg className="qr" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={label} shapeRendering="crispEdges">
      <rect width={side} height={side} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  );
}
