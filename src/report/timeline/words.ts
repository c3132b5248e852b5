/** Words of what happens after a loss. */
import type { Happening, Hit, Lost, Unfollowed, QuerierMoment, Unsaid, When } from '../../model/timeline/index.js';
import type { TreePace, TreeTurn } from '../../model/network/index.js';
import type { Clock, ClockMoment } from '../../model/timing/index.js';
import type { Network } from '../../plan/types.js';
import { linkLabel } from '../../model/vlans/index.js';
import { name, prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { lossWords, secondsWords } from '../../words/clocks.js';
import { agree, counted } from '../../words/counts.js';
import { choiceLabel } from '../../words/labels.js';
import { vlanWords } from '../../words/network.js';

/** `0 s`, `3.1 to 5.3 s`, `not known`. */
export function whenWords(when: When): string {
  if (when.kind === 'not known') return 'not known';
  return when.fromS === when.toS ? `${seconds(when.fromS)} s` : secondsWords(when);
}

/** `switch red-core`, `reference of clock-201 (class 7)`. */
export function lostWords({ kind, name: of, clockClass }: Lost): string {
  return kind === 'reference' ? lossWords({ kind, name: of, clockClass }) : `${kind} ${of}`;
}

/** What the plan does not say. */
export const UNSAID: Readonly<Record<Unsaid, string>> = {
  routing: 'how fast the routers find another way is not stated',
  settle: 'how long they need to lock is not stated (`settle` under `ptp`)',
  takeover: 'no start that was tried showed it, or they end differently',
};

export function happeningWords(what: Happening, most: number): Phrase {
  switch (what.kind) {
    case 'lost':
      return say`${prose(lostWords(what.lost))} is lost`;
    case 'back':
      return say`${prose(lostWords(what.lost))} is back`;
    case 'own inputs':
      return say`gone with it: ${sayNames(what.receivers.map(choiceLabel), most)}`;
    case 'legs off':
      return legsOffWords(what, most);
    case 'dark': {
      const who = hitWords(what.hits, most);
      if (what.why === 'ageing') return say`memberships are forgotten; DARK: ${who}`;
      return what.back ? say`DARK until a leg comes: ${who}` : say`DARK: ${who}`;
    }
    case 'legs on':
      return legsOnWords(what, most);
    case 'spread anew':
      return say`an aggregate has a member less, and streams are spread anew on the others: ${hitWords(what.hits, most)}`;
    case 'new tree':
      return treeWords(what.turn, most);
    case 'querier lost':
      return querierLostWords(what.change, most);
    case 'querier takes over':
      return takeoverWords(what.change, most);
    case 'clocks':
      return clockWords(what.moment, most);
  }
}

/** `3 receivers: a, b and c`. */
function hitWords(hits: readonly Hit[], most: number): Phrase {
  const names = hits.map(({ reception: { receiver, sender } }) =>
    receiver.selection === undefined ? choiceLabel(receiver) : `${choiceLabel(receiver)} with ${sender.label}`,
  );
  return say`${counted(names.length, 'receiver')}: ${sayNames(names, most)}`;
}

function legWords(network: Network | undefined): Phrase {
  return network === undefined ? prose('a leg') : say`the ${network.name} leg`;
}

function legsOffWords(
  { network, hits, kept, back, why }: Extract<Happening, { readonly kind: 'legs off' }>,
  most: number,
): Phrase {
  const by = kept.length === 0 ? prose('by another leg') : say`by ${sayNames(kept.map((one) => one.name))}`;
  const leg = legWords(network);
  const goes = back
    ? say`${leg} is off for a while`
    : why === 'ageing'
      ? say`memberships are forgotten; ${leg} ends`
      : say`${leg} is gone`;
  return say`${goes} at ${hitWords(hits, most)}; ${agree(hits.length, 'it goes', 'they go')} on ${by}`;
}

function legsOnWords(
  { network, hits, by, dark, first }: Extract<Happening, { readonly kind: 'legs on' }>,
  most: number,
): Phrase {
  const comes = first ? 'comes, which a blocked link kept away,' : 'comes again';
  const how = {
    tree: 'by the new tree',
    report: 'with the next report along the new way',
    routing: `through other routers: ${UNSAID.routing}`,
  }[by];
  const until = dark ? ', dark until then' : '';
  return say`${legWords(network)} ${prose(comes)} ${prose(how)}, at ${hitWords(hits, most)}${prose(until)}`;
}

const PACES: Readonly<Record<TreePace, string>> = {
  rapid: 'RSTP, at once where the carrier falls',
  old: 'STP: max age, listening, learning',
  mixed: 'some switches run STP, others RSTP; the slower is taken',
  open: 'assumed: not all switches say which spanning tree they run',
};

function treeWords({ opened, pace }: TreeTurn, most: number): Phrase {
  return say`new spanning tree: ${sayNames(opened.map(linkLabel), most)} ${agree(opened.length, 'opens', 'open')} (${prose(PACES[pace])})`;
}

function querierLostWords({ vlans, switches, from, to }: QuerierMoment, most: number): Phrase {
  const who = sayNames(from.map((one) => one.name));
  const lost = say`${sayNames(vlans.map(vlanWords), most)}: ${who} ${agree(from.length, 'queries', 'query')} no more for ${switchesWords(switches, most)}`;
  return to.length === 0 ? say`${lost}, and NOBODY TAKES OVER` : lost;
}

function takeoverWords({ vlans, switches, to, gapS }: QuerierMoment, most: number): Phrase {
  const who = say`${sayNames(to.map((one) => one.name))} ${agree(to.length, 'queries', 'query')} ${switchesWords(switches, most)}`;
  const gap =
    gapS === 0 ? [] : [say`receivers that answer it late may be forgotten before, for up to ${seconds(gapS)} s`];
  return sayAll([say`${sayNames(vlans.map(vlanWords), most)}: ${who}`, ...gap]);
}

function switchesWords(switches: QuerierMoment['switches'], most: number): Phrase {
  const names = switches.map((one) => one.name);
  return say`${counted(names.length, 'switch')} (${sayNames(names, most)})`;
}

function clockWords(moment: ClockMoment, most: number): Phrase {
  switch (moment.kind) {
    case 'class changes':
      return say`${moment.clock.name} announces class ${String(moment.clockClass)}`;
    case 'master lost':
      return say`${clocksWords(moment.clocks, most)} ${agree(moment.clocks.length, 'hears', 'hear')} ${moment.master.name} no more`;
    case 'leads meanwhile':
      return moment.isGone
        ? say`last words of ${moment.clock.name} come by another path, for up to ${roughly(moment.longestS)} s: ${clocksWords(moment.followers, most)} ${agree(moment.followers.length, 'follows', 'follow')} them`
        : say`${moment.clock.name} leads meanwhile, for up to ${roughly(moment.longestS)} s: ${clocksWords(moment.followers, most)} ${agree(moment.followers.length, 'follows', 'follow')} it`;
    case 'leads':
      return say`${moment.clock.name}${moment.clock.meantToLead ? '' : ', WHICH IS NOT MEANT TO LEAD,'} leads`;
    case 'has master': {
      const who = clocksWords(
        moment.clocks.map(({ clock }) => clock),
        most,
      );
      const agrees = agree(moment.clocks.length, 'follows', 'follow');
      return moment.anew
        ? say`${who} ${agrees} ${moment.grandmaster.name}`
        : say`${who} ${agrees} ${moment.grandmaster.name} again, or by another path`;
    }
    case 'left alone':
      return say`ALONE: ${clocksWords(
        moment.clocks.map(({ clock }) => clock),
        most,
      )}`;
    case 'locked':
      return say`locked: ${clocksWords(
        moment.clocks.map(({ clock }) => clock),
        most,
      )}`;
    case 'lock unstated':
      return say`locked: ${clocksWords(moment.clocks, most)}; ${prose(UNSAID.settle)}`;
    case 'circling':
      return say`ANNOUNCES OF WHAT IS LOST MAY CIRCLE in the ring until then`;
  }
}

function clocksWords(clocks: readonly Clock[], most: number): Phrase {
  const names = clocks.map((one) => one.name);
  const [only] = names;
  return names.length === 1 && only !== undefined
    ? name(only)
    : say`${counted(names.length, 'clock')} (${sayNames(names, most)})`;
}

export function notFollowedWords(one: Unfollowed, most: number): Phrase {
  switch (one.kind) {
    case 'legs': {
      const names = [...new Set(one.legs.map(({ receiver }) => choiceLabel(receiver)))];
      return say`${counted(one.legs.length, 'leg')} at ${sayNames(names, most)}: they do not come today, or the plan does not say where their ends are (\`rigproof failures\` says which)`;
    }
    case 'clocks behind tree':
      return say`that clocks wait for the tree: those that hear each other over ${sayNames(one.links.map(linkLabel), most)} alone are later by what it takes`;
    case 'streams':
      return say`streams that come back with it, and how long a spanning tree takes`;
    case 'holdover':
      return say`how long the holdover of ${one.clock} lasts, which the plan does not state: 0 s is its end`;
    case 'querier places':
      return say`who queries ${sayNames(one.vlans.map(vlanWords), most)}: the plan does not say where`;
    case 'clock of interface':
      return say`what the clock of ${one.device} does without the interface`;
  }
}

function seconds(value: number): string {
  return String(Number(value.toPrecision(4)));
}

/** The longest of some starts is no exact bound. */
function roughly(value: number): string {
  return String(Number(value.toPrecision(2)));
}
