import { yearMark } from '#domain/marking/year-colour.ts';
import type { Sheet } from './sheet.ts';

type Box = { x: number; y: number; side: number };

const cross = ({ x, y, side }: Box): [number, number][] => {
  const third = side / 3;
  const steps: [number, number][] = [
    [1, 0],
    [2, 0],
    [2, 1],
    [3, 1],
    [3, 2],
    [2, 2],
    [2, 3],
    [1, 3],
    [1, 2],
    [0, 2],
    [0, 1],
    [1, 1],
  ];
  return steps.map(([across, down]) => [x + across * third, y + down * third]);
};

function outline(shape: ReturnType<typeof yearMark>['shape'], box: Box): [number, number][] {
  const { x, y, side } = box;
  const middle = side / 2;
  switch (shape) {
    case 'triangle':
      return [
        [x + middle, y],
        [x + side, y + side],
        [x, y + side],
      ];
    case 'diamond':
      return [
        [x + middle, y],
        [x + side, y + middle],
        [x + middle, y + side],
        [x, y + middle],
      ];
    case 'cross':
      return cross(box);
    default:
      return [
        [x, y],
        [x + side, y],
        [x + side, y + side],
        [x, y + side],
      ];
  }
}

/**
 * A queen's mark on paper: the outline of her year's shape (no hue needed) and her disc number in it.
 * `x`, `y` the top left and `side` the side, in millimetres. The year stands beside it, written by the caller.
 */
export function drawMark(sheet: Sheet, { year, disc }: { year: number; disc: number | null }, box: Box): void {
  const { shape } = yearMark(year);
  if (shape === 'circle')
    sheet.circle({ x: box.x + box.side / 2, y: box.y + box.side / 2, radius: box.side / 2 }, { weight: 0.5 });
  else sheet.shape(outline(shape, box), { weight: 0.5 });
  if (disc === null) return;
  const points = box.side * 1.1;
  const low = shape === 'triangle' ? 0.44 : 0.27;
  sheet.write(String(disc), {
    x: box.x,
    y: box.y + box.side * low,
    width: box.side,
    align: 'center',
    points,
    face: 'bold',
  });
}
