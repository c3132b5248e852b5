"""One host interface: joins, sends, queries."""
import select
import socket
import struct
import threading
import time

from packets import (MARK, PIM_HELLO, ROUTER_ALERT, ROUTER_ALERT_6, igmp_query, mld_query, summed, tap)
from space import enter, ip, new_namespace, write_setting

# Milliseconds until a host says again what it joined.
REPEAT_MS = '200'

IP_ADD_SOURCE_MEMBERSHIP = 39
MCAST_JOIN_SOURCE_GROUP = 46
IPV6_HOPOPTS = 54
PIM = 103

DEADLINE_S = 170
QUERY_PERIOD_S = 1.0
# Robustness x query interval + half a response interval (RFC 3376 section 8.5), as all rigs state them.
OTHER_QUERIER_PRESENT_S = 3.1
PORT = 5004


class Host:
    """`eth0` of its own namespace."""

    def __init__(self, spec):
        self.spec = spec
        self.namespace = new_namespace()
        self.address = spec['address']
        self.address6 = spec.get('address6')
        self.joined = {}
        self.speaking = threading.Event()
        for name, setting in (('igmpVersion', 'net/ipv4/conf/all/force_igmp_version'),
                              ('mldVersion', 'net/ipv6/conf/default/force_mld_version')):
            if spec.get(name) is not None:
                write_setting(setting, str(spec[name]))
        write_setting('net/ipv4/igmp_max_memberships', '64')
        # A report is sent twice, the second time within 10 s (RFC 2236 section 8.10, RFC 2710 section 7.10): after a switch
        # was told to forget, it would count as an answer to a query that nobody sent.
        for setting in ('igmpv2', 'igmpv3'):
            write_setting(f'net/ipv4/conf/default/{setting}_unsolicited_report_interval', REPEAT_MS)
        if self.address6 is not None:
            for setting, value in (('disable_ipv6', '0'), ('accept_dad', '0'), ('router_solicitations', '0'), ('accept_ra', '0')):
                for scope in ('all', 'default'):
                    write_setting(f'net/ipv6/conf/{scope}/{setting}', value)
            for setting in ('mldv1', 'mldv2'):
                write_setting(f'net/ipv6/conf/default/{setting}_unsolicited_report_interval', REPEAT_MS)

    def open(self):
        enter(self.namespace)
        lines = [f'address add {self.address}/16 dev eth0']
        if self.address6 is not None:
            # MLD speaks from link-local addresses (RFC 3810 section 5): the plan's last group of digits on both.
            self.local6 = 'fe80::' + self.address6.rsplit(':', 1)[1]
            lines += ['link set eth0 addrgenmode none', f'address add {self.local6}/64 dev eth0 nodad',
                      f'address add {self.address6}/64 dev eth0 nodad']
        ip([*lines, 'link set eth0 up'])
        self.index = socket.if_nametoindex('eth0')
        self.tap = tap('eth0')
        self.sender = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(self.address))
        self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_LOOP, 0)
        self.sender.bind((self.address, 0))
        if self.address6 is not None:
            self.sender6 = socket.socket(socket.AF_INET6, socket.SOCK_DGRAM)
            self.sender6.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_IF, self.index)
            self.sender6.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_LOOP, 0)
            self.sender6.bind((self.address6, 0))

    def send(self, group, number, hops):
        payload = MARK + struct.pack('!I', number)
        try:
            if ':' in group:
                self.sender6.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_HOPS, hops)
                self.sender6.sendto(payload, (group, PORT, 0, self.index))
            else:
                self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_TTL, hops)
                self.sender.sendto(payload, (group, PORT))
        except OSError:
            # Its switch is off.
            pass

    def join(self, group, source):
        if (group, source) in self.joined:
            return
        enter(self.namespace)
        if ':' in group:
            sock = socket.socket(socket.AF_INET6, socket.SOCK_DGRAM)
            if source is None:
                member = socket.inet_pton(socket.AF_INET6, group) + struct.pack('=I', self.index)
                sock.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_JOIN_GROUP, member)
            else:
                member = struct.pack('=I4x', self.index) + sockaddr6(group) + sockaddr6(source)
                sock.setsockopt(socket.IPPROTO_IPV6, MCAST_JOIN_SOURCE_GROUP, member)
        else:
            sock = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
            member = socket.inet_aton(group) + socket.inet_aton(self.address)
            if source is None:
                sock.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP, member)
            else:
                sock.setsockopt(socket.IPPROTO_IP, IP_ADD_SOURCE_MEMBERSHIP, member + socket.inet_aton(source))
        self.joined[(group, source)] = sock

    def leave(self, group, source, aloud):
        self.joined.pop((group, source)).close()
        if aloud:
            # RFC 2236 section 3: a host that was not the last to report may leave in silence, and Linux does.
            message = struct.pack('!BBH4s', 0x17, 0, 0, socket.inet_aton(group))
            self.raw(socket.IPPROTO_IGMP).sendto(summed(message), ('224.0.0.2', 0))

    def raw(self, protocol):
        enter(self.namespace)
        sock = socket.socket(socket.AF_INET, socket.SOCK_RAW, protocol)
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(self.address))
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_TTL, 1)
        # A querier that is a member too answers itself (RFC 3376 section 2), so it must hear what it sends.
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_LOOP, 1)
        if protocol == socket.IPPROTO_IGMP:
            sock.setsockopt(socket.IPPROTO_IP, socket.IP_OPTIONS, ROUTER_ALERT)
        return sock

    def raw6(self):
        enter(self.namespace)
        sock = socket.socket(socket.AF_INET6, socket.SOCK_RAW, socket.IPPROTO_ICMPV6)
        sock.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_IF, self.index)
        sock.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_HOPS, 1)
        sock.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_MULTICAST_LOOP, 1)
        sock.setsockopt(socket.IPPROTO_IPV6, IPV6_HOPOPTS, ROUTER_ALERT_6)
        sock.bind((self.local6, 0, 0, self.index))
        return sock

    def speak(self, kind, version, code):
        """Queries as a querier does, or says hello as a PIM router does, until told to stop."""
        if kind == 'query':
            sock, message, to = self.raw(socket.IPPROTO_IGMP), igmp_query(version, code), ('224.0.0.1', 0)
            rival = rival_igmp(socket.inet_aton(self.address))
        elif kind == 'query6':
            sock, message, to = self.raw6(), mld_query(version, code), ('ff02::1', 0, 0, self.index)
            # What a bound socket hears of all nodes it would not be told.
            listener = socket.socket(socket.AF_INET6, socket.SOCK_RAW, socket.IPPROTO_ICMPV6)
            rival = rival_mld(socket.inet_pton(socket.AF_INET6, self.local6))
        else:
            sock, message, to, rival = self.raw(PIM), PIM_HELLO, ('224.0.0.13', 0), lambda *_: False
        hears = listener if kind == 'query6' else sock
        self.speaking.set()

        def run():
            until = time.monotonic() + DEADLINE_S
            next_at = quiet_until = 0
            while self.speaking.is_set() and time.monotonic() < until:
                now = time.monotonic()
                if now >= max(next_at, quiet_until):
                    try:
                        sock.sendto(message, to)
                    except OSError:
                        pass
                    next_at = now + QUERY_PERIOD_S
                if select.select([hears], [], [], 0.1)[0]:
                    # RFC 3376 section 6.6.2, RFC 3810 section 7.6.2: one that hears a lower address stays silent.
                    if rival(*hears.recvfrom(2048)):
                        quiet_until = time.monotonic() + OTHER_QUERIER_PRESENT_S
            sock.close()

        threading.Thread(target=run, daemon=True).start()


def rival_igmp(own):
    def is_rival(packet, _):
        head = (packet[0] & 15) * 4
        return packet[head] == 0x11 and packet[12:16] != b'\0\0\0\0' and packet[12:16] < own
    return is_rival


def rival_mld(own):
    def is_rival(packet, sender):
        return packet[0] == 130 and socket.inet_pton(socket.AF_INET6, sender[0].split('%')[0]) < own
    return is_rival


def sockaddr6(address):
    """A sockaddr_in6 in the room of a sockaddr_storage."""
    return struct.pack('=HHI16sI', socket.AF_INET6, 0, 0, socket.inet_pton(socket.AF_INET6, address), 0).ljust(128, b'\0')
