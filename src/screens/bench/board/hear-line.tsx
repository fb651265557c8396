import { useEffect, useRef, useState } from 'react';
import { say } from '#words/say.ts';
import { hearsByItself, listen, type Wish } from './hearing.ts';

/** The ear of the board, while it is switched on; it says when this device cannot hear by itself. */
export function HearLine({ onHeard }: { onHeard: (asked: Wish) => void }) {
  const [can, setCan] = useState<boolean | null>(null);
  const heard = useRef(onHeard);
  heard.current = onHeard;
  useEffect(() => {
    let stop = () => {};
    let isGone = false;
    void hearsByItself().then((does) => {
      setCan(does);
      if (does && !isGone) stop = listen((asked) => heard.current(asked));
    });
    return () => {
      isGone = true;
      stop();
    };
  }, []);
  if (can === null) return null;
  return (
    <p className="board-warning" role="status">
      {say(can ? 'bench.hear.on' : 'bench.hear.not-here')}
    </p>
  );
}
