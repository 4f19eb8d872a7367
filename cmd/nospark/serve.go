package main

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"nospark/cmd/internal/network"
	"nospark/grading/attempt/journal"
	"nospark/scenarios/disk"
	"nospark/scenarios/term"
)

// serving is what the command line says.
type serving struct {
	address, certificate, key, pin string
	minutes                        int
	asJSON                         bool
}

// usualPort is where the class finds the bench.
const usualPort = 8420

func newServeCmd() *cobra.Command {
	var s serving
	cmd := &cobra.Command{
		Use: "serve LAB", Short: "Serve a lab to the class's phones, without partners and readings on paper",
		Args: args(cobra.ExactArgs(1)),
		Long: `Serves the lab to browsers on the class's network until Ctrl-C. A student claims a sheet with the code and the word of the own strip
(LAB/instructor/claims.pdf), commits a test with what it should read, and only then sees the reading. The desk, on this machine alone,
shows who is where and lets latecomers in. Everything is kept in LAB/entries/bench.journal, which nospark grade reads beside what was
keyed in. After a crash or a restart the same command goes on where it stopped.

Plain HTTP protects neither against listening nor against spoofing: whoever receives the traffic can read it and act as a classmate.
A certificate that the phones trust ends that.`,
		Example: "  nospark serve labs/week05\n  nospark serve labs/week05 --minutes 50 --address 192.168.1.20:8420",
		RunE: func(cmd *cobra.Command, list []string) error {
			if s.minutes < 0 || s.minutes > 600 {
				return usageError{fmt.Errorf("--minutes %d: want 0 to 600", s.minutes)}
			}
			return serve(cmd, list[0], s)
		},
	}
	cmd.Flags().StringVar(&s.address, "address", "", "host and port for the class; without it every address of this "+
		"machine, port 8420")
	cmd.Flags().StringVar(&s.certificate, "certificate", "",
		"file with the certificate for TLS, and with --key its key")
	cmd.Flags().StringVar(&s.key, "key", "", "file with the key of --certificate")
	cmd.Flags().StringVar(&s.pin, "pin", "", "PIN for releasing, closing and taking back; without it one is drawn")
	cmd.Flags().IntVar(&s.minutes, "minutes", 0, "how long the class has; time running out closes nothing")
	cmd.Flags().BoolVar(&s.asJSON, "json", false, "print the two addresses as one line of JSON when ready")
	cmd.MarkFlagsRequiredTogether("certificate", "key")
	return cmd
}

// serve serves until the context ends.
func serve(cmd *cobra.Command, folder string, s serving) error {
	ctx := cmd.Context()
	g, err := openLab(folder)
	if err != nil {
		return err
	}
	if g.dir == "" {
		return fmt.Errorf("%s: cannot be served without %s of its term: the journal is sealed with it", folder,
			term.KeyFile)
	}
	entries := filepath.Join(folder, "entries")
	if err := os.MkdirAll(entries, 0o755); err != nil {
		return err
	}
	held, err := disk.LockShallow(ctx, entries, "serve "+g.lab.Name)
	if err != nil {
		return err
	}
	defer held.Unlock()
	class, desk, err := listeners(s)
	if err != nil {
		return err
	}
	defer class.Close()
	defer desk.Close()
	w, content, err := journal.Open(folder, g.journalOf())
	if err != nil {
		return err
	}
	defer w.Close()
	if content.Torn {
		fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s: its last line was torn by a crash; nothing of it had been "+
			"shown, and it was cut off\n",
			disk.ShowName(filepath.Join(folder, filepath.FromSlash(journal.File))))
	}
	if content.Room.Closed {
		fmt.Fprintf(cmd.ErrOrStderr(), "nospark: %s is closed: its debriefs can be released and read, and nothing is "+
			"recorded\n", disk.ShowName(folder))
	}
	if s.pin == "" {
		s.pin = drawnPin()
	}
	h, err := newHouse(ctx, folder, g, w, content.Room, s, class.Addr(), desk.Addr())
	if err != nil {
		return err
	}
	h.tell(cmd, folder)
	if at, err := url.Parse(g.term.Bench); err == nil && at.Host != "" && (at.Scheme != h.scheme() ||
		!slices.Contains(h.classHosts(), at.Host)) {
		fmt.Fprintf(cmd.ErrOrStderr(), "nospark: the codes on the strips lead to %s (bench in %s), which is not an "+
			"address of this bench: the class writes the one on the board\n", g.term.Bench, term.File)
	}
	return h.run(ctx, class, desk)
}

// drawnPin has four digits.
func drawnPin() string {
	n, err := rand.Int(rand.Reader, big.NewInt(10000))
	if err != nil {
		panic(err) // never fails, see crypto/rand
	}
	return fmt.Sprintf("%04d", n)
}

// listeners opens the class's and the desk's.
func listeners(s serving) (class, desk net.Listener, err error) {
	address := s.address
	if address == "" {
		address = ":" + strconv.Itoa(usualPort)
	}
	if _, _, err := net.SplitHostPort(address); err != nil {
		return nil, nil, usageError{fmt.Errorf("--address %q: want a host and a port, like 192.168.1.20:8420",
			s.address)}
	}
	if class, err = net.Listen("tcp", address); err != nil {
		return nil, nil, fmt.Errorf("the class's address cannot be used: %w; is another bench open? Give --address "+
			"HOST:PORT", err)
	}
	port := class.Addr().(*net.TCPAddr).Port
	for next := port + 1; next < port+100 && next < 65536; next++ {
		if desk, err = net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(next))); err == nil {
			break
		}
	}
	if desk == nil {
		class.Close()
		return nil, nil, fmt.Errorf("the desk finds no free port behind %d: %w", port, err)
	}
	if s.certificate != "" {
		pair, err := tls.LoadX509KeyPair(s.certificate, s.key)
		if err != nil {
			class.Close()
			desk.Close()
			return nil, nil, fmt.Errorf("--certificate %s, --key %s: %w", s.certificate, s.key, err)
		}
		class = tls.NewListener(class, &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12})
	}
	return class, desk, nil
}

// tell says where everything is.
func (h *house) tell(cmd *cobra.Command, folder string) {
	out, errOut := cmd.OutOrStdout(), cmd.ErrOrStderr()
	address := h.addresses()[0]
	link := func(token string) {
		fmt.Fprintf(errOut, "desk   %s/open?key=%s   (serves once; press Enter for another)\n", h.deskAddress(), token)
	}
	if h.serving.asJSON {
		line, _ := json.Marshal(struct { // two texts
			Class string `json:"class"`
			Desk  string `json:"desk"`
		}{address, h.deskAddress()})
		fmt.Fprintln(out, string(line))
	} else {
		fmt.Fprintf(out, "\n%s\nclass  %s\n", qrText(address), address)
		for _, other := range h.addresses()[1:] {
			fmt.Fprintf(out, "       %s\n", other)
		}
	}
	fmt.Fprintf(errOut, "pin    %s   for releasing, closing and taking back\n", h.serving.pin)
	h.desk.Link = link
	h.desk.NewLink()
	if !h.serving.asJSON {
		fmt.Fprintf(out, "Ctrl-C ends. What is committed stays in %s.\n",
			disk.ShowName(filepath.Join(folder, filepath.FromSlash(journal.File))))
	}
	go h.links(cmd.InOrStdin())
}

// run serves both listeners until the context ends.
func (h *house) run(ctx context.Context, class, desk net.Listener) error {
	classServer, deskServer := network.Server(h.class.Handler()), network.Server(h.desk.Handler())
	failed := make(chan error, 2)
	go func() { failed <- classServer.Serve(class) }()
	go func() { failed <- deskServer.Serve(desk) }()
	var err error
	select {
	case err = <-failed:
	case <-ctx.Done():
	}
	h.live.End()
	end, cancel := context.WithTimeout(context.Background(), grace/2)
	defer cancel()
	for _, s := range []*http.Server{classServer, deskServer} {
		if s.Shutdown(end) != nil {
			s.Close()
		}
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// now is the clock of the bench.
func now() time.Time { return time.Now() }
