import { useEffect, useRef, useState } from 'react';
import { say } from '#words/say.ts';
import { type CameraProblem, readByCamera } from './camera-reader.ts';

/** The camera as a label reader: a small picture, so that a person sees where to hold the cage. */
export function Camera({ onRead }: { onRead: (text: string) => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const read = useRef(onRead);
  read.current = onRead;
  const [problem, setProblem] = useState<CameraProblem | null>(null);
  useEffect(() => {
    let isGone = false;
    let stop = () => {};
    if (video.current === null) return;
    void readByCamera({ video: video.current, onRead: (text) => read.current(text) }).then((begun) => {
      if ('problem' in begun) setProblem(begun.problem);
      else if (isGone) begun.stop();
      else stop = begun.stop;
    });
    return () => {
      isGone = true;
      stop();
    };
  }, []);
  return (
    <p className="board-warning board-camera" role="status">
      <video ref={video} muted playsInline hidden={problem !== null} aria-label={say('bench.camera')} />
      <span>{say(problem === null ? 'bench.camera.on' : `bench.camera.${problem}`)}</span>
    </p>
  );
}
