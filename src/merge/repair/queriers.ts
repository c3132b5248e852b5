/** Who is meant to query where VLANs became one: whoever wins the election with the addresses as they are. */
import { formatAddress } from '../../values/address.js';
import type { Querier } from '../../plan/types.js';
import type { Model } from '../../model/model.js';
import { electionWinner } from '../../model/network/index.js';
import type { EditList } from '../../edits/edit-list.js';

/** Writes the winner first in its VLAN's list, in exchange for the one that was: nothing changes on a switch. */
export function settleQueriers({ groupSegments }: Model, edits: EditList): void {
  for (const { domain, candidates, protocol } of groupSegments) {
    if (new Set(domain.vlans.map(({ rig }) => rig)).size < 2) continue;
    const winner = electionWinner(candidates, protocol);
    if (winner?.querier === undefined || winner.intended) continue;
    const [first] = winner.vlan[protocol]?.queriers ?? [];
    if (first === undefined) continue;
    const said = { first: wordsOf(first), winner: wordsOf(winner.querier) };
    write(first, said.winner, edits);
    write(winner.querier, said.first, edits);
  }
}

interface Words {
  readonly on: string | undefined;
  readonly address: string | undefined;
}

/** `on` as it was written, for it may name the rig too. */
function wordsOf({ origin, address }: Querier): Words {
  const { on } = origin.container as { readonly on?: string };
  return { on, address: address === undefined ? undefined : formatAddress(address) };
}

function write(querier: Querier, { on, address }: Words, edits: EditList): void {
  if (on !== undefined) edits.set(querier, 'on', on);
  if (address !== undefined) edits.set(querier, 'address', address);
}
