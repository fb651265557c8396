import { Link } from '@tanstack/react-router';
import type { QueenFace } from '#domain/marking/queen-face.ts';
import { Code, calledOf } from '../parts/identity-band.tsx';
import { QueenMark } from '../parts/queen-mark.tsx';

/** A queen named in passing: her mark and her code, leading to her leaf. */
export function QueenLink({ queen }: { queen: QueenFace }) {
  return (
    <span className="queen-link">
      <QueenMark year={queen.year} mark={queen.mark} />
      <Link to="/stock/queen/$id" params={{ id: queen.id }}>
        <Code>{calledOf(queen)}</Code>
      </Link>
    </span>
  );
}
