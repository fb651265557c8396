import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';
import { create as createQr } from 'qrcode';
import { printable } from './printable.ts';

/** Points (1/72 inch) in a millimetre. */
const POINTS = 72 / 25.4;

/** Usual sheets, width and height in millimetres. */
export const sizes = {
  a6: [105, 148],
  a5: [148, 210],
  a4: [210, 297],
  a4Wide: [297, 210],
  a3Wide: [420, 297],
} as const;

const fontFile = createRequire(import.meta.url).resolve;
const family = (name: 'next' | 'mono', folder: string, file: string) =>
  fontFile(`@expo-google-fonts/atkinson-hyperlegible-${name}/${folder}/${file}.ttf`);

/** Whole TTFs: a web font cut to a script leaves holes in Polish or Czech names. */
const fonts = {
  regular: () => family('next', '400Regular', 'AtkinsonHyperlegibleNext_400Regular'),
  bold: () => family('next', '700Bold', 'AtkinsonHyperlegibleNext_700Bold'),
  mono: () => family('mono', '700Bold', 'AtkinsonHyperlegibleMono_700Bold'),
} as const;
export type Face = keyof typeof fonts;

export type SheetOptions = {
  title: string;
  /** Width and height in millimetres. */
  size: readonly [number, number];
  /** BCP 47 tag of the words on it. */
  language: string;
};

/** Where words stand and how; `x`, `y`, `width` in millimetres from the top left, `points` the type size. */
export type Words = {
  x: number;
  y: number;
  /** Wraps within this width; without it one line to the right edge. */
  width?: number;
  points?: number;
  face?: Face;
  align?: 'left' | 'center' | 'right';
  /** Cut with an ellipsis after so many lines; without it as many as are needed. */
  lines?: number;
  /** What it is to a screen reader. */
  role?: 'H1' | 'H2' | 'P' | 'Caption';
};

export type Stroke = { weight?: number; dash?: number };

/** A page under the pen. Every measure is a true millimetre; black ink only. */
export type Sheet = {
  readonly width: number;
  readonly height: number;
  /** Begins the next page. */
  page(): void;
  /** Writes words; answers with the y below them. */
  write(words: string, at: Words): number;
  /** The height the words would take. */
  heightOf(words: string, at: Omit<Words, 'x' | 'y'>): number;
  /** The width of one line of words. */
  widthOf(words: string, at: Pick<Words, 'points' | 'face'>): number;
  line(from: readonly [number, number], to: readonly [number, number], stroke?: Stroke): void;
  box(at: { x: number; y: number; width: number; height: number }, stroke?: Stroke): void;
  /** A closed outline through points; `fill` 0 (paper) to 1 (ink), without an outline where its weight is 0. */
  shape(points: readonly (readonly [number, number])[], how?: Stroke & { fill?: number }): void;
  circle(at: { x: number; y: number; radius: number }, how?: Stroke & { fill?: number }): void;
  /**
   * A QR symbol (ISO/IEC 18004), drawn as vector, error correction Q, with its quiet zone of 4 modules. `module` is the side of one
   * module in millimetres. Answers with the side of the whole, quiet zone included.
   */
  code(payload: string, at: { x: number; y: number; module: number }): number;
};

const grey = (ink: number) => {
  const level = Math.round(255 * (1 - ink));
  return [level, level, level] as [number, number, number];
};

type Pdf = InstanceType<typeof PDFDocument>;

function textOptions({ width, align, lines }: Omit<Words, 'x' | 'y'>, lineHeight: number) {
  return {
    ...(width === undefined ? { lineBreak: false } : { width: width * POINTS }),
    ...(align === undefined ? {} : { align }),
    ...(lines === undefined ? {} : { height: lines * lineHeight + 0.5, ellipsis: true }),
  };
}

function writing(doc: Pdf, tagged: (role: string, draw: () => void) => void) {
  const set = ({ points = 11, face = 'regular' }: Pick<Words, 'points' | 'face'>) => {
    doc.font(face).fontSize(points).fillColor('black');
    return doc.currentLineHeight(true);
  };
  return {
    write(words: string, at: Words): number {
      const lineHeight = set(at);
      const width = at.width ?? doc.page.width / POINTS - at.x;
      tagged(at.role ?? 'P', () =>
        doc.text(printable(words), at.x * POINTS, at.y * POINTS, textOptions({ ...at, width }, lineHeight)),
      );
      const tall = doc.heightOfString(printable(words), textOptions({ ...at, width }, lineHeight));
      return at.y + Math.min(tall, (at.lines ?? Number.POSITIVE_INFINITY) * lineHeight) / POINTS;
    },
    heightOf(words: string, at: Omit<Words, 'x' | 'y'>): number {
      const lineHeight = set(at);
      const tall = doc.heightOfString(printable(words), textOptions(at, lineHeight));
      return Math.min(tall, (at.lines ?? Number.POSITIVE_INFINITY) * lineHeight) / POINTS;
    },
    widthOf(words: string, at: Pick<Words, 'points' | 'face'>): number {
      set(at);
      return doc.widthOfString(printable(words)) / POINTS;
    },
  };
}

/** Lines and shapes are decoration to a screen reader: the words beside them say the same. */
function drawing(doc: Pdf) {
  const drawn = (draw: () => void) => {
    doc.markContent('Artifact', { type: 'Layout' });
    doc.save();
    draw();
    doc.restore();
    doc.endMarkedContent();
  };
  const pen = ({ weight = 0.3, dash }: Stroke) => {
    doc.lineWidth(weight * POINTS).strokeColor('black');
    if (dash !== undefined) doc.dash(dash * POINTS, { space: dash * POINTS });
  };
  const inked = (how: Stroke & { fill?: number }) => {
    pen(how);
    if (how.fill === undefined) doc.stroke();
    else if (how.weight === 0) doc.fill(grey(how.fill));
    else doc.fillAndStroke(grey(how.fill), 'black');
  };
  return {
    line: ([x1, y1]: readonly [number, number], [x2, y2]: readonly [number, number], stroke: Stroke = {}) =>
      drawn(() => {
        pen(stroke);
        doc
          .moveTo(x1 * POINTS, y1 * POINTS)
          .lineTo(x2 * POINTS, y2 * POINTS)
          .stroke();
      }),
    box: ({ x, y, width, height }: { x: number; y: number; width: number; height: number }, stroke: Stroke = {}) =>
      drawn(() => {
        doc.rect(x * POINTS, y * POINTS, width * POINTS, height * POINTS);
        inked(stroke);
      }),
    shape: (points: readonly (readonly [number, number])[], how: Stroke & { fill?: number } = {}) =>
      drawn(() => {
        doc.polygon(...points.map(([x, y]) => [x * POINTS, y * POINTS] as [number, number]));
        inked(how);
      }),
    circle: ({ x, y, radius }: { x: number; y: number; radius: number }, how: Stroke & { fill?: number } = {}) =>
      drawn(() => {
        doc.circle(x * POINTS, y * POINTS, radius * POINTS);
        inked(how);
      }),
  };
}

const QUIET = 4;

/** Every dark run of a row as one rectangle: fewer seams for a printer than module by module. */
function drawCode(doc: Pdf, payload: string, { x, y, module }: { x: number; y: number; module: number }): number {
  const { modules } = createQr(payload, { errorCorrectionLevel: 'Q' });
  const side = module * POINTS;
  const left = x * POINTS + QUIET * side;
  const top = y * POINTS + QUIET * side;
  doc.save();
  for (let row = 0; row < modules.size; row++)
    for (let column = 0; column < modules.size; column++) {
      if (modules.get(row, column) === 0) continue;
      let run = 1;
      while (column + run < modules.size && modules.get(row, column + run) !== 0) run++;
      doc.rect(left + column * side, top + row * side, run * side, side);
      column += run - 1;
    }
  doc.fill('black').restore();
  return (modules.size + 2 * QUIET) * module;
}

function sheetOn(doc: Pdf, size: readonly [number, number]): { sheet: Sheet; end: () => void } {
  const root = doc.struct('Document');
  doc.addStructure(root);
  const tagged = (role: string, draw: () => void) => void root.add(doc.struct(role, {}, draw));
  const page = () => void doc.addPage({ size: [size[0] * POINTS, size[1] * POINTS], margin: 0 });
  page();
  const sheet: Sheet = {
    width: size[0],
    height: size[1],
    page,
    ...writing(doc, tagged),
    ...drawing(doc),
    code(payload, at) {
      let side = 0;
      const figure = doc.struct('Figure', { alt: payload }, () => {
        side = drawCode(doc, payload, at);
      });
      root.add(figure);
      return side;
    },
  };
  return { sheet, end: () => root.end() };
}

/**
 * Draws a PDF: true millimetres, black ink, whole fonts, tagged for screen readers.
 * @example await drawSheet({ title: 'Cross B', size: sizes.a6, language: 'en' }, (sheet) => sheet.write('Cross B', { x: 8, y: 8 }))
 */
export async function drawSheet(
  { title, size, language }: SheetOptions,
  draw: (sheet: Sheet) => void,
): Promise<Uint8Array<ArrayBuffer>> {
  const doc = new PDFDocument({
    pdfVersion: '1.7',
    tagged: true,
    displayTitle: true,
    lang: language,
    autoFirstPage: false,
    info: { Title: printable(title), Producer: 'Combwright', Creator: 'Combwright' },
  });
  const parts: Buffer[] = [];
  doc.on('data', (part: Buffer) => parts.push(part));
  const whole = new Promise<void>((resolve) => doc.on('end', resolve));
  for (const face of Object.keys(fonts) as Face[]) doc.registerFont(face, fonts[face]());
  const { sheet, end } = sheetOn(doc, size);
  draw(sheet);
  end();
  doc.end();
  await whole;
  return new Uint8Array(Buffer.concat(parts));
}
