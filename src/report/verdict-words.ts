/** Why a receiver does not get a leg, or why nobody can tell, and what to write so that somebody can. */
import type { UnicastStop } from '../model/network/index.js';
import type { Lack, UnreachedWhy } from '../model/verdicts/index.js';
import type { Port } from '../plan/types.js';
import { formatAddress } from '../values/address.js';
import { prose, say, type Phrase } from '../page/phrase.js';
import { vlanWords, writePlace } from '../words/network.js';

const NO_ROUTER = 'no one router is named in both (`routing: {routers: …}`)';

/** Why a receiver does not get the leg. */
export function unreachedWords(why: UnreachedWhy): Phrase {
  switch (why.kind) {
    case 'sender unknown':
      return say`not known, as the sender's place is not`;
    case 'place unknown':
      return say`not known where it stands: ${prose(writePlace(why.lacks))}`;
    case 'leg not taken':
      return say`no leg of it takes this one: name its interface under \`legs\` if it should`;
    case 'joins nothing':
      return say`it joins no group`;
    case 'way unknown': {
      const { missing, write } = lackWords(why.lacks);
      return say`not known: ${prose(missing)}; ${prose(write)}`;
    }
    case 'no gateway':
      return say`${formatAddress(why.address)} is outside the sender's subnet, and ${vlanWords(why.vlan)} has no gateway`;
    case 'nobody holds':
      return say`nothing holds ${formatAddress(why.address)}`;
    case 'other address':
      return say`the leg is sent to ${formatAddress(why.address)}, which is the address of ${why.holder}`;
    case 'nobody sends':
      return say`nothing in the plan sends what it joins where it stands`;
    case 'other group':
      return say`it joins ${formatAddress(why.joins)} instead`;
    case 'other source':
      return say`it takes the group from ${formatAddress(why.expects)} only`;
    case 'other UDP port':
      return say`it listens on UDP port ${String(why.listens)}, and the leg is sent to ${String(why.sent)}`;
    case 'port outside VLAN':
      return say`the switch port of the ${why.side} does not carry ${vlanWords(why.vlan)}`;
    case 'no querier':
      return say`nobody queries in ${vlanWords(why.vlan)}: its switches forget the group within ${String(why.membershipS)} s`;
    case 'not bound':
      return say`${why.at.name} does not bind ${formatAddress(why.group)} to ${portsWords(why.ports)}`;
    case 'no rendezvous point':
      return say`nothing routes groups of any source from ${vlanWords(why.from)} to ${vlanWords(why.to)}`;
    case 'refused join':
      return say`${formatAddress(why.group)} is source-specific, and a join that names no source is ignored`;
    case 'not multicast':
      return say`${formatAddress(why.group)} is no multicast group`;
    case 'no link':
      return say`no link of the plan carries the VLAN from ${why.from.name} to ${why.to.name}`;
    case 'blocked link':
      return say`the spanning tree keeps every link blocked that carries the VLAN from ${why.from.name} to ${why.to.name}`;
    case 'no named router':
      return say`${vlanWords(why.from)} and ${vlanWords(why.to)} are routed, but ${prose(NO_ROUTER)}`;
    case 'not routed':
      return say`it stands in ${vlanWords(why.to)}, and nothing routes multicast there from ${vlanWords(why.from)}`;
    case 'time to live':
      if (why.ttl === 0) return say`TTL 0 keeps it on the sender`;
      return why.routers < 2
        ? say`TTL ${String(why.ttl)} ends at the router`
        : say`TTL ${String(why.ttl)} ends before the last of ${String(why.routers)} routers on the path`;
    case 'routers apart':
      return say`it stands in ${vlanWords(why.to)}, and no chain of routers leads there from ${vlanWords(why.from)}`;
    case 'no way back':
      if (why.at !== undefined)
        return say`the way back of ${why.at.name} to the sender goes over a link that does not route multicast`;
      return say`no router knows a way back to ${why.source === undefined ? 'its source' : formatAddress(why.source)}`;
    case 'two senders':
      return say`another sender uses ${formatAddress(why.to)} too: it gets both, mixed`;
    case 'duplicate address':
      return say`the address of the sender or of the receiver is another's too: which of the two is on the network is luck`;
    case 'unusable address':
      return say`no host can have the address of the sender or of the receiver`;
    case 'unusable source':
      return say`no host can send from the source address that is stated`;
    case 'unusable MAC':
      return say`the MAC of the sender or of the receiver is one that switches never learn`;
    case 'packet size':
      return say`its packets are larger than the path takes`;
    case 'storm':
      return say`a loop that no spanning tree breaks fills the links of its VLAN`;
    case 'VLAN id':
      return say`no trunk can carry ${vlanWords(why.vlan)}`;
  }
}

/** Any of the ports of an aggregate would do. */
function portsWords(ports: readonly Port[]): string {
  return `port ${ports.map(({ name }) => name).join(' or ')}`;
}

export interface LackWords {
  /** `the switch port of the sender is not known`. */
  readonly missing: string;
  readonly write: string;
}

/** The fact without which legs are not followed. */
export function lackWords(lack: Lack): LackWords {
  return LACK_WORDS[lack];
}

const LACK_WORDS: Readonly<Record<Lack, LackWords>> = {
  rate: {
    missing: 'the rate of the stream is not known',
    write: 'give the sender a `format` with all that makes its rate, or mend the one that a finding calls a slip',
  },
  source: {
    missing: 'the group is source-specific, and the sender takes its address from DHCP',
    write: 'reserve an address and write it as `address` of the interface, or see that the SDP tells receivers',
  },
  link: { missing: 'no link leads there', write: 'list the `links` between the switches' },
  route: {
    missing: 'no chain of boxes that forward is known from the gateway to the VLAN of the address',
    write: 'give the boxes an address in each VLAN they route, and devices `routes: true`',
  },
  'several routes': {
    missing: 'several boxes could forward the stream equally well',
    write:
      'give the interface the `gateway` that is meant; of equal paths beyond it the plan cannot say which is taken',
  },
  'router port': {
    missing: 'the switch port of a box that forwards on the way is not known',
    write: 'give its interfaces a `port`',
  },
  'gateway box': {
    missing: 'no box that forwards is known to hold the gateway of the sender',
    write: 'give the switch the address, or the device with it `routes: true`',
  },
  gateway: {
    missing: 'the address lies outside the subnet of the sender, and its gateway is not known',
    write: 'give the VLAN a `gateway`',
  },
  router: { missing: 'no one router is named in both VLANs', write: 'name it: `routing: {routers: […]}`' },
  routing: { missing: 'nobody says what routes between the VLANs', write: 'state `routing` in both VLANs' },
  'sender port': { missing: 'the switch port of the sender is not known', write: writePlace('switch port') },
  'receiver port': { missing: 'the switch port of the receiver is not known', write: writePlace('switch port') },
  'sender VLAN': { missing: 'the VLAN of the sender is not known', write: writePlace('VLAN') },
  'receiver VLAN': { missing: 'the VLAN of the receiver is not known', write: writePlace('VLAN') },
  'sender interface': {
    missing: 'the interface of the sender is not known',
    write: 'give the stream a device, and its leg an `interface`',
  },
  'receiver interface': {
    missing: 'the interface of the receiver is not known',
    write: 'name it under `interfaces` or `legs`',
  },
  'several holders': {
    missing: 'several boxes hold the address the stream is sent to',
    write: 'give each an address of its own',
  },
  'address holder': {
    missing: 'nobody in the plan is known to hold the address the stream is sent to',
    write: 'list the box that has it, with its `address`',
  },
  'receiver address': {
    missing: 'the stream is sent to one address, and that of the receiver is not known',
    write: 'give its interface an `address`',
  },
  group: { missing: 'the group of the sender is not known', write: 'give the sender leg a `group`' },
  'sender leg': {
    missing: 'the sender has no leg for this one',
    write: 'give the sender the leg, or leave it out at the receiver',
  },
  senders: {
    missing: 'nobody is known to send the group where the receiver stands',
    write: 'list its sender, or the links and routers that lead to it',
  },
  stream: { missing: 'nobody says what the receiver takes', write: 'give it `takes: device/sender`' },
};

/** Why a leg to one address does not get to its end, or is not followed there. */
export const STOPS: Readonly<Record<UnicastStop, string>> = {
  'no gateway': 'the address is outside the subnet of the sender, and neither its interface nor its VLAN has a gateway',
  'nobody holds': 'nothing holds the address: the sender gets no answer for it and sends nothing',
  'no link': 'the address is in the subnet of the sender, and nothing joins the sender with who holds it',
  'sender VLAN': stopWords('sender VLAN'),
  'receiver VLAN': 'not followed: the VLAN of the box with the address is not known; give its interface a `vlan`',
  'receiver port':
    'not followed: the switch port of the box with the address is not known; give its interface a `port`',
  'address holder': stopWords('address holder'),
  'several holders': stopWords('several holders'),
  gateway: stopWords('gateway'),
  'gateway box': stopWords('gateway box'),
  route: stopWords('route'),
  'several routes': stopWords('several routes'),
};

function stopWords(lack: Lack): string {
  const { missing, write } = LACK_WORDS[lack];
  return `not followed: ${missing}; ${write}`;
}
