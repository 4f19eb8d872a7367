package network

import (
	"net"
	"net/netip"
	"slices"
	"strings"
)

// Addresses are those of this machine on its networks, the likeliest first: private IPv4 addresses of a school's or a
// home's network come before others.
func Addresses() []netip.Addr {
	found, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var all []netip.Addr
	for _, a := range found {
		p, err := netip.ParsePrefix(a.String())
		if err != nil || p.Addr().IsLoopback() || p.Addr().IsLinkLocalUnicast() {
			continue
		}
		all = append(all, p.Addr())
	}
	slices.SortStableFunc(all, func(a, b netip.Addr) int { return rank(a) - rank(b) })
	return all
}

func rank(a netip.Addr) int {
	switch {
	case a.Is4() && a.IsPrivate():
		return 0
	case a.Is4():
		return 1
	}
	return 2
}

// HostNames are the values of the Host header under which a port of this machine is ours. The port of the scheme may be
// left out.
func HostNames(names []string, port, usual string) []string {
	var all []string
	for _, n := range names {
		n = strings.ToLower(n)
		all = append(all, net.JoinHostPort(n, port))
		if port == usual {
			if strings.Contains(n, ":") {
				n = "[" + n + "]"
			}
			all = append(all, n)
		}
	}
	return all
}
