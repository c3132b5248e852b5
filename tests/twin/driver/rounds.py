"""What labs of switches and of routers do alike: send rounds of packets until they go the same way, and run side by side."""
import threading
import time

from packets import arrived

PACKETS_A_ROUND = 2
# A round is over after so long at the latest.
LONGEST_ROUND_S = 3


def steady(send_round, most, needed):
    """Sends rounds until as many in a row as needed went the same way, so that a late report does not count."""
    last, same = None, 0
    for _ in range(most):
        now = send_round()
        same = same + 1 if now == last else 1
        last = now
        if same >= needed:
            break
    return last


def count_round(send, streams, kinds, taps, quiet_s, name_of):
    """Counts by kind what each stream brings to taps of (kind, name, socket), until nothing has come for so long.

    `send` sends one packet of a stream. `name_of` gets a kind, a name, the number of the stream, a tag and the hops left,
    and says what to count it under, or None.
    """
    for _, _, sock in taps:
        arrived(sock)
    for number, stream in enumerate(streams):
        for _ in range(PACKETS_A_ROUND):
            send(number, stream)
    counts = [{kind: {} for kind in kinds} for _ in streams]
    until = time.monotonic() + LONGEST_ROUND_S
    busy = True
    while busy and time.monotonic() < until:
        time.sleep(quiet_s)
        busy = False
        for kind, name, sock in taps:
            for number, tag, hops in arrived(sock):
                key = name_of(kind, name, number, tag, hops)
                if key is None:
                    continue
                counts[number][kind][key] = counts[number][kind].get(key, 0) + 1
                busy = True
    return counts


def side_by_side(specs, see, deadline_s):
    """What `see` makes of each spec and its number, or its error; waits of one run beside the building of others."""
    results = [{'error': 'not finished in time'} for _ in specs]

    def one(index):
        try:
            results[index] = {'seen': see(specs[index], index)}
        except Exception as problem:
            results[index] = {'error': f'{type(problem).__name__}: {problem}'}

    threads = [threading.Thread(target=one, args=(index,), daemon=True) for index in range(len(specs))]
    for thread in threads:
        thread.start()
    until = time.monotonic() + deadline_s
    for thread in threads:
        thread.join(max(0, until - time.monotonic()))
    return results
