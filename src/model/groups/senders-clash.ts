/** Whether the legs that use one group stand in each other's way. */
import { isMulticast } from '../../values/address.js';
import type { Sender } from '../../plan/types.js';
import type { GroupUse } from './group-use.js';
import { toldApartBySource } from './source-filter.js';

/**
 * Several senders use one group, and nothing tells them apart (RFC 1112 §4). Not: one stream on both legs
 * (`groups/legs-share-group`), one host's address (`groups/not-multicast`).
 */
export function sendersClash(use: GroupUse): boolean {
  if (use.legs.length < 2 || !isMulticast(use.group)) return false;
  const senders = sendersOf(use);
  if (senders.size < 2 || oneSession(use)) return false;
  // Legs of one stream may share its source; what counts is whether other streams have it.
  const perSource = new Map(use.legs.map((leg) => [leg.source ?? leg, leg]));
  const owners = new Map<unknown, Sender>();
  const mixed = use.legs.some((leg) => {
    const owner = owners.get(leg.source ?? leg);
    owners.set(leg.source ?? leg, leg.sender);
    return owner !== undefined && owner !== leg.sender;
  });
  return mixed || !toldApartBySource({ ...use, legs: [...perSource.values()] });
}

/** Whether no two senders of it are heard together today: they stand in parts of one network that nothing joins. */
export function sendersApart({ parts }: GroupUse): boolean {
  return parts?.every((part) => sendersOf(part).size < 2) === true;
}

function sendersOf(use: GroupUse): ReadonlySet<Sender> {
  return new Set(use.legs.map((leg) => leg.sender));
}

/** RFC 8866 §5.7: the media of one session description may share a connection address. */
function oneSession(use: GroupUse): boolean {
  const [first] = use.legs;
  return (
    first?.sender.session !== undefined &&
    use.legs.every((leg) => leg.sender.session === first.sender.session && leg.index === first.index)
  );
}
