import { type UseQueryResult, useQuery, useQueryClient } from '@tanstack/react-query';
import { getJson, postJson } from './server.ts';

/** A device that was let in from the local network. Times in milliseconds since 1970. */
export type DeviceLetIn = { id: string; name: string; paired: number; until: number; seen: number | null };

/** How the local network stands, as the machine itself sees it (server/pairing/door.ts). */
export type NetworkState = {
  openUntil: number | null;
  addresses: readonly string[];
  code: { code: string; until: number; days: number } | null;
  devices: readonly DeviceLetIn[];
};

const KEY = ['pairing'];
/** While a code is shown, the page looks this often whether a device came in, milliseconds. */
const LOOK = 2_000;

/** How the network stands, kept fresh; and what changes it. Only at the machine itself. */
export function useNetwork(): {
  query: UseQueryResult<NetworkState>;
  change: (what: 'open' | 'close' | 'code' | 'revoke', body?: object) => Promise<void>;
} {
  const client = useQueryClient();
  const query = useQuery({
    queryKey: KEY,
    queryFn: () => getJson<NetworkState>('/api/pairing'),
    refetchInterval: LOOK,
    staleTime: 0,
  });
  const change = async (what: string, body: object = {}) => {
    client.setQueryData(KEY, await postJson<NetworkState>(`/api/pairing/${what}`, body));
  };
  return { query, change };
}

/** Who this page is to the server: the machine itself, a paired device, or neither. */
export type WhoIsThis = { here: boolean; device: Omit<DeviceLetIn, 'seen'> | null };

export const usePaired = (): UseQueryResult<WhoIsThis> =>
  useQuery({ queryKey: ['paired'], queryFn: () => getJson<WhoIsThis>('/api/paired') });

/** Asks to be let in; afterwards the browser carries a key that no page can read. */
export const pairThisDevice = (code: string, name: string): Promise<WhoIsThis> =>
  postJson<WhoIsThis>('/api/pair', { code, name });
