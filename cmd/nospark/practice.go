package main

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"nospark/cmd/internal/practice"
	"nospark/cmd/internal/practicefile"
	"nospark/printouts/wording"
	"nospark/scenarios/pack"
)

func newPracticeCmd() *cobra.Command {
	out := ""
	cmd := &cobra.Command{
		Use: "practice [PACK...]", Short: "Make one file with which students practice alone",
		Args: args(cobra.ArbitraryArgs),
		Long: `Makes one HTML file that opens in a browser, from a memory stick or any web address, and needs no server: it holds the bench with any number of
simulated vehicles of the packs, feedback after each step or at the end, and a log that stays on the device. Without a pack it holds all that
come with the program. Nothing in the file is of any class, term or key, and it sends nothing; what somebody practices is no evidence of
competence and counts for no mark.

A released program has all it needs inside. From source it needs Go, and is run in the folder of the source.`,
		Example: "  nospark practice horn single-coil --out practice.html",
		RunE: func(cmd *cobra.Command, packs []string) error {
			return runPractice(cmd.Context(), packs, out, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	cmd.Flags().StringVar(&out, "out", "practice.html", "the file to write")
	return cmd
}

// runPractice makes the practice file at path.
func runPractice(ctx context.Context, packs []string, path string, out, errOut io.Writer) error {
	bar := newBar(errOut, "working out vehicles")
	defer bar.done()
	shelves, err := stockShelves(ctx, packs, bar.set)
	if err != nil {
		return err
	}
	bar.done()
	program, err := practiceProgram(ctx)
	if err != nil {
		return err
	}
	data, err := practicefile.Make(program, shelves)
	if err != nil {
		return err
	}
	if err := writeOut(path, data, forAll); err != nil {
		return err
	}
	stages := 0
	for _, s := range shelves {
		stages += len(s.Offer.Stages)
	}
	w := &writer{out: out}
	w.line("%s is ready: %.1f MB, %s, %s to practice.", path, float64(len(data))/1e6, wording.Count(len(shelves),
		"system", "systems"),
		wording.Count(stages, "complaint", "complaints"))
	w.line("Give it to your students as a file or put it on any web page. It opens in a browser; a mail program may " +
		"show it without its scripts.")
	return w.err
}

// stockShelves works out the packs, small ones first.
func stockShelves(ctx context.Context, packs []string, progress func(done, total int)) ([]*practice.Shelf, error) {
	if len(packs) == 0 {
		packs = pack.Builtin()
	}
	const share = 100 // of the bar for each pack
	var shelves []*practice.Shelf
	for i, name := range packs {
		file, text, err := packText(name)
		if err != nil {
			return nil, err
		}
		s, err := practice.NewShelf(ctx, file, text, func(done, total int) {
			progress(i*share+done*share/total,
				len(packs)*share)
		})
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(shelves, func(o *practice.Shelf) bool { return o.Offer.Pack == s.Offer.Pack }) {
			return nil, fmt.Errorf("%s: pack %q is named twice", filepath.ToSlash(name), s.Offer.Pack)
		}
		shelves = append(shelves, s)
	}
	slices.SortStableFunc(shelves, func(a, b *practice.Shelf) int { return a.Offer.Tests - b.Offer.Tests })
	return shelves, nil
}
