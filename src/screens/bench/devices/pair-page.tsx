import '../../style/devices.css';
import { useQueryClient } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { useEffect, useState } from 'react';
import { say } from '#words/say.ts';
import { send } from '../../link/outbox/outbox.ts';
import { pairThisDevice, usePaired } from '../../link/pairing.ts';
import { RefusedByServer, type SaidProblem } from '../../link/server.ts';
import { Asked } from '../../parts/asked.tsx';
import { Form, TextField } from '../../parts/form.tsx';
import { WhatThisPageCanDo } from './can-do.tsx';

const day = (milliseconds: number) => new Date(milliseconds).toISOString().slice(0, 10);

/** The code in the address, as a camera opens it. */
const codeHere = () => decodeURIComponent(location.hash.slice(1));

function PairForm() {
  const [code, setCode] = useState(codeHere);
  const [name, setName] = useState('');
  const [problems, setProblems] = useState<readonly SaidProblem[]>([]);
  const client = useQueryClient();
  // Where this page stood open already, the camera changes nothing but the code.
  useEffect(() => {
    const taken = () => setCode(codeHere());
    addEventListener('hashchange', taken);
    return () => removeEventListener('hashchange', taken);
  }, []);
  const pair = async () => {
    try {
      await pairThisDevice(code, name);
      history.replaceState(null, '', '/pair');
      await client.invalidateQueries();
      void send();
    } catch (error) {
      if (!(error instanceof RefusedByServer)) throw error;
      setProblems(error.problems);
    }
  };
  return (
    <Form act={say('bench.pair.act')} onSubmit={pair} problems={problems}>
      <TextField label={say('bench.pair.code')} value={code} onChange={setCode} at="code" code needed />
      <TextField
        label={say('bench.pair.name')}
        hint={say('bench.pair.name-hint')}
        value={name}
        onChange={setName}
        at="name"
        needed
      />
    </Form>
  );
}

/** Where a tablet asks to be let in, by the code the machine shows. */
export function PairPage() {
  const query = usePaired();
  return (
    <section className="stack">
      <h1>{say('bench.pair')}</h1>
      <Asked query={query}>
        {({ here, device }) =>
          here ? (
            <p>
              {say('bench.pair.here')} <Link to="/bench/devices">{say('bench.devices')}</Link>
            </p>
          ) : device === null ? (
            <>
              <p>{say('bench.pair.how')}</p>
              <h2>{say('bench.pair.form')}</h2>
              <PairForm />
            </>
          ) : (
            <>
              <p>● {say('bench.pair.done', { name: device.name, until: day(device.until) })}</p>
              <p>
                <Link to="/bench" className="button main">
                  {say('bench.pair.to-bench')}
                </Link>
              </p>
            </>
          )
        }
      </Asked>
      <WhatThisPageCanDo />
    </section>
  );
}
