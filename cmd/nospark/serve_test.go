//go:build unix

package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"nospark/grading/attempt/journal"
)

// twoListeners are class and desk of a lab on test servers, whose addresses the house knows.
func twoListeners(t *testing.T) (h *house, class, desk *httptest.Server, link string) {
	t.Helper()
	folder, _, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\nspares = 1\n", 3)
	w, c, err := journal.Open(folder, g.journalOf())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.Close() })
	class, desk = httptest.NewUnstartedServer(nil), httptest.NewUnstartedServer(nil)
	h, err = newHouse(t.Context(), folder, g, w, c.Room, serving{pin: "4711", minutes: 50,
		address: class.Listener.Addr().String()},
		class.Listener.Addr(), desk.Listener.Addr())
	if err != nil {
		t.Fatal(err)
	}
	class.Config.Handler, desk.Config.Handler = h.class.Handler(), h.desk.Handler()
	class.Start()
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
	for range 6 {
		do("act=close&pin=1")
	}
	contains(do("act=close&pin=4711"), "too many PINs")
	if _, _, err := journal.Open(h.folder, h.g.journalOf()); err == nil {
		t.Error("the journal has no closing line")
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
