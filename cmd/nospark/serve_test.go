//go:build unix

package main

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"nospark/cmd/internal/web"
	"nospark/grading/attempt/journal"
	"nospark/scenarios/testrun"
)

// twoListeners are class and desk of a lab with one spare on test servers, whose addresses the house knows.
func twoListeners(t *testing.T) (h *house, class, desk *httptest.Server, link string) {
	t.Helper()
	return openHouse(t, 1, false)
}

// openHouse has some spares; with TLS the class's listener has it.
func openHouse(t *testing.T, spares int, tls bool) (h *house, class, desk *httptest.Server, link string) {
	t.Helper()
	folder, _, g := benchTerm(t, fmt.Sprintf("title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\nspares = %d\n",
		spares), 3)
	w, c, err := journal.Open(folder, g.journalOf())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	class, desk = httptest.NewUnstartedServer(nil), httptest.NewUnstartedServer(nil)
	s := serving{pin: "4711", minutes: 50, address: class.Listener.Addr().String()}
	if tls {
		s.certificate = "given"
	}
	h, err = newHouse(t.Context(), folder, g, w, c.Room, s, class.Listener.Addr(), desk.Listener.Addr())
	if err != nil {
		t.Fatal(err)
	}
	class.Config.Handler, desk.Config.Handler = h.class.Handler(), h.desk.Handler()
	if tls {
		class.StartTLS()
	} else {
		class.Start()
	}
	desk.Start()
	t.Cleanup(class.Close)
	t.Cleanup(desk.Close)
	h.desk.Link = func(token string) { link = desk.URL + "/open?key=" + token }
	h.desk.NewLink()
	return h, class, desk, link
}

// send sends a request with headers, names and values in turn, and gives status, body and headers.
func send(t *testing.T, client *http.Client, method, address, body string, headers ...string) (int, string,
	http.Header) {
	t.Helper()
	r, err := http.NewRequest(method, address, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for i := 0; i+1 < len(headers); i += 2 {
		if r.Header.Set(headers[i], headers[i+1]); headers[i] == "Host" {
			r.Host = headers[i+1]
		}
	}
	a, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	data, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, string(data), a.Header
}

// visitor follows no redirects and keeps cookies.
func visitor() *http.Client { return newPhone("").client }

func TestClassListener(t *testing.T) {
	h, class, _, _ := twoListeners(t)
	lab := h.g.lab
	check := func(client *http.Client, want int, method, path, body string, headers ...string) string {
		t.Helper()
		status, text, _ := send(t, client, method, class.URL+path, body, headers...)
		if status != want {
			t.Errorf("%s %s: status %d, want %d: %s", method, path, status, want, text)
		}
		return text
	}
	me := visitor()
	code := lab.Sheets[0].Code
	claim := url.Values{"sheet": {code}, "word": {claimWord(h.g.key, lab.Name, code)}}.Encode()
	check(me, http.StatusMisdirectedRequest, "GET", "/", "", "Host", "rebound.example")
	check(me, http.StatusMisdirectedRequest, "GET", "/", "", "Host", "127.0.0.1:1")
	check(me, http.StatusForbidden, "POST", "/claim", claim, "Origin", "http://elsewhere.example")
	check(me, http.StatusForbidden, "POST", "/claim", claim, "Sec-Fetch-Site", "cross-site")
	check(me, http.StatusBadRequest, "POST", "/claim", strings.Repeat("x", 20_000))
	check(me, http.StatusUnauthorized, "GET", "/events", "")
	check(me, http.StatusUnauthorized, "GET", "/sheet", "")
	check(me, http.StatusSeeOther, "POST", "/claim", claim, "Origin", class.URL)
	check(me, http.StatusOK, "GET", "/sheet", "")

	at, _ := url.Parse(class.URL)
	var cookie *http.Cookie
	for _, c := range me.Jar.Cookies(at) {
		if strings.HasPrefix(c.Name, "seat") {
			cookie = c
		}
	}
	if cookie == nil {
		t.Fatal("no cookie")
	}
	for _, forged := range []string{strings.Replace(cookie.Value, code, lab.Sheets[1].Code, 1),
		cookie.Value[:len(cookie.Value)-1] + "x", "..", ""} {
		check(visitor(), http.StatusUnauthorized, "GET", "/sheet", "", "Cookie", cookie.Name+"="+forged)
	}
	check(visitor(), http.StatusOK, "GET", "/sheet", "", "Cookie", cookie.Name+"="+cookie.Value)
	_, _, headers := send(t, me, "GET", class.URL+"/sheet", "")
	for name, want := range map[string]string{"Content-Security-Policy": "default-src 'none'",
		"X-Frame-Options": "DENY",
		"Referrer-Policy": "same-origin", "X-Content-Type-Options": "nosniff", "Cache-Control": "no-store"} {
		if !strings.Contains(headers.Get(name), want) {
			t.Errorf("%s is %q", name, headers.Get(name))
		}
	}
	check(me, http.StatusSeeOther, "POST", "/leave", "", "Origin", class.URL)
	// signed out for good
	check(visitor(), http.StatusUnauthorized, "GET", "/sheet", "", "Cookie", cookie.Name+"="+cookie.Value)
}

// TestSecondDevice: it waits until the desk lets it in, then both show the same.
func TestSecondDevice(t *testing.T) {
	h, class, desk, link := twoListeners(t)
	code := h.g.lab.Sheets[0].Code
	form := url.Values{"sheet": {code}, "word": {claimWord(h.g.key, h.g.lab.Name, code)}}.Encode()
	one, two := visitor(), visitor()
	if status, _, _ := send(t, one, "POST", class.URL+"/claim", form); status != http.StatusSeeOther {
		t.Fatalf("status %d", status)
	}
	status, page, _ := send(t, two, "POST", class.URL+"/claim", form)
	word := regexp.MustCompile(`class="word">([a-z]+)<`).FindStringSubmatch(page)
	if status != http.StatusAccepted || word == nil {
		t.Fatalf("status %d: %s", status, page)
	}
	if status, _, _ := send(t, two, "GET", class.URL+"/sheet", ""); status != http.StatusAccepted {
		t.Errorf("while it waits: status %d", status)
	}
	instructor := visitor()
	if status, _, _ := send(t, instructor, "GET", link, ""); status != http.StatusSeeOther {
		t.Fatalf("the link gives %d", status)
	}
	if _, page, _ = send(t, instructor, "GET", desk.URL+"/", ""); !strings.Contains(page, word[1]) {
		t.Errorf("the desk does not show who waits: %s", page)
	}
	send(t, instructor, "POST", desk.URL+"/do", url.Values{"act": {"admit"}, "word": {word[1]}}.Encode(), "Origin",
		desk.URL)
	if status, _, _ := send(t, two, "GET", class.URL+"/sheet", ""); status != http.StatusSeeOther {
		t.Errorf("after the desk: status %d", status)
	}
	send(t, one, "POST", class.URL+"/steps", url.Values{"key": {"a"}, "test": {h.g.lab.Tests[0].ID},
		"expect": {"seen by both"}}.Encode())
	if _, page, _ = send(t, two, "GET", class.URL+"/sheet", ""); !strings.Contains(page, "seen by both") {
		t.Error("the second device does not show what the first did")
	}
}

func TestDeskListener(t *testing.T) {
	h, class, desk, link := twoListeners(t)
	me := visitor()
	check := func(client *http.Client, want int, method, path, body string, headers ...string) string {
		t.Helper()
		status, text, _ := send(t, client, method, desk.URL+path, body, headers...)
		if status != want {
			t.Errorf("%s %s: status %d, want %d: %s", method, path, status, want, text)
		}
		return text
	}
	own := []string{"Origin", desk.URL}
	check(me, http.StatusUnauthorized, "GET", "/", "")
	check(me, http.StatusUnauthorized, "POST", "/do", "act=pause", own...)
	check(me, http.StatusForbidden, "GET", "/open?key=guessed", "")
	check(me, http.StatusMisdirectedRequest, "GET", "/", "", "Host", strings.TrimPrefix(class.URL, "http://"))
	path := strings.TrimPrefix(link, desk.URL)
	check(me, http.StatusSeeOther, "GET", path, "")
	check(visitor(), http.StatusForbidden, "GET", path, "") // it serves once
	check(me, http.StatusOK, "GET", "/", "")
	check(me, http.StatusOK, "GET", "/door", "")
	check(me, http.StatusForbidden, "POST", "/do", "act=pause")
	check(me, http.StatusForbidden, "POST", "/do", "act=pause", "Origin", class.URL)
	do := func(form string) string {
		t.Helper()
		check(me, http.StatusSeeOther, "POST", "/do", form, own...)
		return check(me, http.StatusOK, "GET", "/", "")
	}
	contains := func(page, want string) {
		t.Helper()
		if !strings.Contains(page, want) {
			t.Errorf("the desk does not say %q", want)
		}
	}
	s := h.g.lab.Sheets
	contains(do("act=start"), "The time runs")
	if left := h.left(s[0].Code); left != "50 minutes left when this page was loaded." {
		t.Errorf("a student is told %q", left)
	}
	contains(do("act=extra&minutes=10&sheet="+s[0].Code), "+10 min")
	if left := h.left(s[0].Code); left != "60 minutes left when this page was loaded." {
		t.Errorf("with extra time a student is told %q", left)
	}
	contains(do("act=extra&minutes=x&sheet="+s[0].Code), "Not done: give minutes")
	contains(do("act=tell&line=1&sheet="+s[1].Code), "has no line 001")
	h.g.lab.Sheets[1].Lines[0].Number = 123
	contains(do("act=tell&line=123&sheet="+s[1].Code), s[1].Lines[0].Reading)
	contains(check(me, http.StatusOK, "GET", "/", ""), "<td>paper</td>")
	contains(do("act=give&student=4711&name=Late+Comer"), "Late Comer 4711")
	contains(do("act=give&student=4712"), "no spare sheet left")
	contains(do("act=close&pin=0000"), "the PIN is wrong")
	contains(do("act=void&pin=4711&step=1&reason=x&sheet="+s[0].Code), "there is no step 1")
	contains(do("act=release&pin=4711"), "Debriefs are released")
	contains(do("act=grade"), "Graded: ")
	contains(do("act=close&pin=4711"), "The lab is closed")
	contains(do("act=pause"), "Not done")
	contains(do("act=release&pin=4711"), "Everybody can read the own debrief")
	claimed := h.g.lab.Sheets[2].Code
	if a := h.bench.Do(web.Request{Method: "GET", Path: "/debrief", Sheet: claimed, JSON: true}); a.Status !=
		http.StatusOK {
		t.Errorf("released after the close: %d %s", a.Status, a.Body)
	}
	contains(do("act=pair"), "over TLS alone")
	for range 6 {
		do("act=close&pin=1")
	}
	contains(do("act=close&pin=4711"), "too many PINs")
	if c, err := journal.Read(h.folder, h.g.journalOf()); err != nil || !c.Room.Closed || !c.Room.Released {
		t.Errorf("the journal has no closing line, or no release: %v", err)
	}
}

// TestSparesGivenAtOnce: however many latecomers come at the same instant, each gets a sheet of the own, and who comes
// again keeps it.
func TestSparesGivenAtOnce(t *testing.T) {
	const late = 12
	h, _, desk, link := openHouse(t, late, false)
	me := visitor()
	send(t, me, "GET", link, "")
	var all sync.WaitGroup
	for i := range 2 * late {
		form := fmt.Sprintf("act=give&student=late-%d", i%late)
		all.Go(func() {
			r, _ := http.NewRequest("POST", desk.URL+"/do", strings.NewReader(form)) // the address is sound
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set("Origin", desk.URL)
			if a, err := me.Do(r); err == nil {
				a.Body.Close()
			}
		})
	}
	all.Wait()
	given := map[string]int{}
	for _, row := range h.view.Rows(now()) {
		if strings.HasPrefix(row.Student, "late-") {
			given[row.Student]++
		}
	}
	for i := range late {
		if n := given[fmt.Sprintf("late-%d", i)]; n != 1 {
			t.Errorf("late-%d has %d sheets", i, n)
		}
	}
}

// TestPairedPhone: the instructor's phone is paired by a link that the desk shows, over TLS alone; it lets in, pauses
// and gives time, from its own pages only, and the desk sends it away.
func TestPairedPhone(t *testing.T) {
	testrun.Slow(t, "serves a lab over TLS")
	h, class, desk, link := openHouse(t, 1, true)
	device := func() *http.Client {
		c := visitor()
		c.Transport = class.Client().Transport
		return c
	}
	me, phone, student := visitor(), device(), device()
	check := func(client *http.Client, want int, method, path, body string, headers ...string) string {
		t.Helper()
		status, text, _ := send(t, client, method, class.URL+path, body, headers...)
		if status != want {
			t.Errorf("%s %s: status %d, want %d: %s", method, path, status, want, text)
		}
		return text
	}
	own := []string{"Origin", class.URL}
	send(t, me, "GET", link, "")
	atDesk := func(form string) string {
		t.Helper()
		send(t, me, "POST", desk.URL+"/do", form, "Origin", desk.URL)
		_, page, _ := send(t, me, "GET", desk.URL+"/", "")
		return page
	}
	if strings.Contains(atDesk("act=start"), "Pair your phone") {
		t.Error("a link to pair by is shown unasked")
	}
	if page := atDesk("act=pair"); !strings.Contains(page, "Pair your phone") || !strings.Contains(page, "<svg") {
		t.Errorf("no code to pair by: %s", page)
	}
	key := h.desk.Pairing.Open(now())
	pair := url.Values{"key": {key}}.Encode()
	check(phone, http.StatusUnauthorized, "GET", web.HandPath, "")
	check(phone, http.StatusUnauthorized, "POST", web.HandPausePath, "stop=yes", own...)
	check(phone, http.StatusOK, "GET", web.HandPath+"?key="+key, "") // looking pairs nothing
	check(phone, http.StatusUnauthorized, "GET", web.HandPath, "")
	check(phone, http.StatusForbidden, "POST", web.HandPairPath, "key=guessed", own...)
	check(phone, http.StatusForbidden, "POST", web.HandPairPath, pair)
	check(phone, http.StatusForbidden, "POST", web.HandPairPath, pair, "Origin", "https://elsewhere.example")
	check(phone, http.StatusMisdirectedRequest, "GET", web.HandPath, "", "Host", "rebound.example")
	check(phone, http.StatusSeeOther, "POST", web.HandPairPath, pair, own...)
	check(device(), http.StatusForbidden, "POST", web.HandPairPath, pair, own...)
	if page := atDesk(""); !strings.Contains(page, "1 of your phones is paired") ||
		strings.Contains(page, "Pair your phone") {
		t.Error("the desk does not say that a phone is paired")
	}

	check(phone, http.StatusForbidden, "POST", web.HandPausePath, "stop=yes")
	check(phone, http.StatusForbidden, "POST", web.HandPausePath, "stop=yes", "Sec-Fetch-Site", "cross-site")
	if page := check(phone, http.StatusOK, "POST", web.HandPausePath, "stop=yes", own...); !strings.Contains(page,
		"Everybody pauses") || !h.view.Clock(now(), "").Paused {
		t.Errorf("not paused: %s", page)
	}
	check(phone, http.StatusOK, "POST", web.HandPausePath, "stop=no", own...)
	s := h.g.lab.Sheets
	check(phone, http.StatusOK, "POST", web.HandTimePath, "minutes=10&sheet="+s[0].Code, own...)
	check(phone, http.StatusBadRequest, "POST", web.HandTimePath, "minutes=x&sheet="+s[0].Code, own...)
	if c := h.view.Clock(now(), s[0].Code); c.Left != 60 || c.Paused {
		t.Errorf("%+v", c)
	}
	check(student, http.StatusAccepted, "POST", "/claim", "id="+s[1].Student, own...)
	waiting := h.desk.Waits.List()
	if len(waiting) != 1 {
		t.Fatalf("%+v", waiting)
	}
	page := check(phone, http.StatusOK, "GET", web.HandPath, "")
	if !strings.Contains(page, waiting[0].Word) {
		t.Errorf("who waits is not shown: %s", page)
	}
	check(phone, http.StatusOK, "POST", web.HandAdmitPath, "word="+waiting[0].Word, own...)
	check(student, http.StatusSeeOther, "GET", "/sheet", "")
	page += check(phone, http.StatusOK, "GET", web.HandPath, "")
	for _, sheet := range s {
		if strings.Contains(page, claimWord(h.g.key, h.g.lab.Name, sheet.Code)) {
			t.Error("the phone shows the word of a strip")
		}
	}
	for _, act := range []string{"close", "release", "void", "grade", "give", "tell", "do"} {
		check(phone, http.StatusBadRequest, "POST", web.HandPath+"/"+act, "pin=4711&act="+act, own...)
	}
	check(student, http.StatusUnauthorized, "GET", web.HandPath, "") // a student's cookie is none

	atDesk("act=unpair")
	check(phone, http.StatusUnauthorized, "POST", web.HandPausePath, "stop=yes", own...)
	check(phone, http.StatusUnauthorized, "GET", web.HandPath, "")

	_, plain, _, _ := twoListeners(t)
	for _, path := range []string{web.HandPath, web.HandPath + "?key=" + key} {
		if status, _, _ := send(t, visitor(), "GET", plain.URL+path, ""); status != http.StatusNotFound {
			t.Errorf("without TLS %s gives %d", path, status)
		}
	}
	for _, path := range []string{web.HandPairPath, web.HandAdmitPath, web.HandPausePath, web.HandTimePath} {
		if status, _, _ := send(t, visitor(), "POST", plain.URL+path, pair, "Origin",
			plain.URL); status != http.StatusNotFound {
			t.Errorf("without TLS %s gives %d", path, status)
		}
	}
}

// TestTwoBenchesOnOneMachine: browsers do not tell the ports of a machine apart, so cookies carry them in their names.
func TestTwoBenchesOnOneMachine(t *testing.T) {
	testrun.Slow(t, "serves two labs")
	_, _, first, link1 := twoListeners(t)
	_, _, second, link2 := twoListeners(t)
	me := visitor()
	for _, link := range []string{link1, link2} {
		if status, _, _ := send(t, me, "GET", link, ""); status != http.StatusSeeOther {
			t.Fatalf("the link gives %d", status)
		}
	}
	for _, desk := range []*httptest.Server{first, second} {
		if status, _, _ := send(t, me, "GET", desk.URL+"/", ""); status != http.StatusOK {
			t.Errorf("beside another desk this one gives %d", status)
		}
	}
}

// TestServeRefuses: what cannot be served is told in words.
func TestServeRefuses(t *testing.T) {
	folder, _, _ := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 2)
	refused := func(want string, line ...string) {
		t.Helper()
		if got := fails(t, append([]string{"serve", folder, "--address", "127.0.0.1:0"},
			line...)...); !strings.Contains(got, want) {
			t.Errorf("serve %v says %q, want %q", line, got, want)
		}
	}
	for _, line := range [][]string{{"--minutes", "-1"}, {"--address", "somewhere"}, {"--key", "none.key"}} {
		command(t, exitUsage, append([]string{"serve", folder}, line...)...)
	}
	refused("--certificate none.pem", "--certificate", "none.pem", "--key", "none.key")
	path := filepath.Join(folder, filepath.FromSlash(journal.File))
	if err := os.WriteFile(path, []byte("{\"seq\":0}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	refused("bench.journal:1: was changed")
	if got := fails(t, "grade", folder); !strings.Contains(got, "bench.journal:1: was changed") {
		t.Errorf("grade says %q", got)
	}
	os.Remove(path)
	key := filepath.Join(folder, "..", "..", "term.key")
	if err := os.Rename(key, key+".away"); err != nil {
		t.Fatal(err)
	}
	refused("cannot be served without term.key")
}
