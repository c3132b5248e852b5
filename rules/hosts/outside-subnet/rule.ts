import { createEditList, likely, peopleDecide, readdress, type Cure, usualVlanOf } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldFact,
  heldLabel,
  heldMark,
  inPrefix,
  isIPv4,
  mark,
  networkOf,
  noted,
  rigOf,
  subnetFor,
  subnetKey,
  touchOfOwner,
  vlanSubject,
  type Address,
  type FindingDraft,
  type Held,
  type Prefix,
  type Vlan,
  type Model,
  isInterface,
  mayCarry,
  type Owner,
  overlaps,
} from '../../../src/doors/rule.js';
import { heldSubject, vlanOfAddress, votesOn, type SubnetFit } from '../../../src/doors/hosts.js';
import { words, type Facts, type Note } from './words.js';

const IPV4 = [clause('RFC 1122', '3.3.1.1')];
const IPV6 = [clause('RFC 4861', '5.2')];

type VlanOf = ReturnType<typeof vlanOfAddress>;

export default defineRule<Facts, Note>({
  id: 'hosts/outside-subnet',
  summary: 'An address lies outside the subnet of its VLAN',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses', 'subnets'],
  brief: 'address outside its subnet',
  *check({ plan, model }) {
    const vlanOf = vlanOfAddress(plan.vlans);
    for (const fit of model.addressing.fits.values()) {
      const { outvotedBy, subnet } = fit;
      if (
        outvotedBy?.prefix.length === subnet.length &&
        !outvotedBy.held.every(({ owner }) => isElsewhere(owner, model))
      )
        yield vlanIsWrong(fit, outvotedBy, vlanOf, model);
      yield* strays(fit, vlanOf, model);
    }
  },
  words,
});

function* strays(fit: SubnetFit, vlanOf: VlanOf, model: Model): Iterable<FindingDraft<Facts, Note>> {
  const { vlan, subnet } = fit;
  for (const held of byLabel(fit.odd, heldLabel)) {
    const { address, owner } = held;
    if (inPrefix(address, subnet) || isElsewhere(owner, model)) continue; // hosts/prefix-differs, hosts/wrong-vlan
    const home = vlanOf(rigOf(owner), address);
    const lies = home === undefined ? undefined : subnetFor(home, address);
    const free = model.proposals.address(vlan, beforeTwin(address, subnet));
    yield {
      subject: heldSubject(held),
      parties: [heldLabel(held), vlan.name, ...(home === undefined ? [] : [home.name])],
      cure: () =>
        home !== undefined && belongsHome(model, owner, vlan, home)
          ? moveHome(owner, home)
          : free === undefined
            ? peopleDecide('where the box belongs')
            : readdress(
                model,
                [{ owner, address, offered: formatAddress(free) }],
                home === undefined ? 'certain' : 'likely',
              ),
      facts: {
        form: 'address',
        ...heldFact(held),
        vlan,
        subnet: formatPrefix(subnet),
        home:
          home === undefined
            ? undefined
            : { vlan: home, subnet: lies === undefined ? undefined : formatPrefix(lies), isIts: home === vlan },
        free: free === undefined ? undefined : formatAddress(free),
      },
      at: heldMark(held, 'outside'),
      others: [
        mark(vlan, `VLAN ${vlan.name}`, fit.key),
        ...(home === undefined ? [] : [homeMark(home, lies)]),
        ...queriersAt(vlan, held).map((one) => noted(mark(one, `querier ${one.on?.name ?? ''}`, 'address'), 'queries')),
      ],
      touch: touchOfOwner(owner),
      sources: isIPv4(address) ? IPV4 : IPV6,
    };
  }
}

/** Queriers of the VLAN that are to send from it: they may have the slip too, and move with it. */
function queriersAt(vlan: Vlan, { owner, address }: Held): NonNullable<Vlan['igmp']>['queriers'] {
  const box = isInterface(owner) ? owner.device : owner.switch;
  const queriers = [...(vlan.igmp?.queriers ?? []), ...(vlan.mld?.queriers ?? [])];
  return queriers.filter((one) => one.on === box && one.address === address);
}

/** The VLAN is what is wrong about it. */
function isElsewhere(owner: Owner, { wrongVlans }: Model): boolean {
  return isInterface(owner) && wrongVlans.of(owner) !== undefined;
}

function homeMark(home: Vlan, lies: Prefix | undefined): ReturnType<typeof mark> {
  return mark(home, `VLAN ${home.name}`, lies === undefined ? undefined : subnetKey(home, lies));
}

/** Most addresses agree on another subnet: a sign that the VLAN's is a slip. */
function vlanIsWrong(
  fit: SubnetFit,
  outvotedBy: NonNullable<SubnetFit['outvotedBy']>,
  vlanOf: VlanOf,
  model: Model,
): FindingDraft<Facts, Note> {
  const { vlan, subnet } = fit;
  const held = byLabel(outvotedBy.held, heldLabel);
  const holders = held.map(heldLabel);
  return {
    subject: `${vlanSubject(vlan)}, ${formatPrefix(subnet)}`,
    parties: [...holders, vlan.name],
    confidence: 'likely',
    cure: () => {
      const edits = createEditList();
      const others = model.plan.vlans.flatMap((one) => (one === vlan ? [] : [one.subnet, one.subnet6]));
      if (others.some((one) => one !== undefined && overlaps(one, outvotedBy.prefix)))
        return peopleDecide('which block each of the VLANs has');
      edits.set(vlan, fit.key, formatPrefix(outvotedBy.prefix));
      return likely(edits);
    },
    facts: {
      form: 'vlan',
      vlan,
      subnet: formatPrefix(subnet),
      holders,
      addresses: votesOn(fit),
      theirs: formatPrefix(outvotedBy.prefix),
      home: vlanOf(rigOf(held[0].owner), held[0].address),
    },
    at: noted(mark(vlan, `VLAN ${vlan.name}`, fit.key), 'doubt'),
    others: held.map((one) => heldMark(one)),
    touch: { kind: 'vlan', name: vlan.name },
    sources: isIPv4(subnet.network) ? IPV4 : IPV6,
  };
}

/** The address before the one with the same last part in this subnet, which is most likely meant. */
function beforeTwin(address: Address, { network, length }: Prefix): Address {
  const base = networkOf(address, length);
  if (typeof address === 'number') return Number(network) + address - Number(base) - 1;
  return BigInt(network) + address - BigInt(base) - 1n;
}

/** Other devices of the kind, or the port it is patched to, say that it belongs in the VLAN its address is of. */
function belongsHome(model: Model, owner: Owner, vlan: Vlan, home: Vlan): boolean {
  if (home === vlan || !isInterface(owner)) return false;
  const patched = owner.port !== undefined && mayCarry(owner.port, home) && !mayCarry(owner.port, vlan);
  return patched || usualVlanOf(model, owner) === home;
}

function moveHome(owner: Owner, home: Vlan): Cure {
  const edits = createEditList();
  edits.set(owner, 'vlan', home.name);
  return likely(edits);
}
