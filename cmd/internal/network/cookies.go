package network

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"nospark/cmd/internal/web"
)

// Cookies prove which sheet a device may see. They follow from a key of the lab, so they outlive a restart; which
// devices are signed in, the journal knows.
type Cookies struct {
	Key    []byte
	Suffix string // of the names: browsers do not tell the ports of one machine apart
	Secure bool   // only over TLS
}

// kept is how long a browser keeps a cookie: a long day in the shop.
const kept = 14 * 60 * 60

func (c Cookies) set(w http.ResponseWriter, name, value string, age int) {
	http.SetCookie(w, &http.Cookie{Name: name + c.Suffix, Value: value, Path: "/", MaxAge: age,
		HttpOnly: true, Secure: c.Secure,
		SameSite: http.SameSiteLaxMode})
}

func (c Cookies) sign(text string) string {
	mac := hmac.New(sha256.New, c.Key)
	mac.Write([]byte(text))
	return hex.EncodeToString(mac.Sum(nil)[:16])
}

// seated gives a device its sheet.
func (c Cookies) seated(w http.ResponseWriter, sheet string, device int) {
	text := fmt.Sprintf("%s.%d", sheet, device)
	c.set(w, "seat", text+"."+c.sign(text), kept)
	c.set(w, "wait", "", -1)
}

func (c Cookies) clear(w http.ResponseWriter) { c.set(w, "seat", "", -1) }

// seat reads which sheet and device a request proves, "" for none.
func (c Cookies) seat(r *http.Request) (sheet string, device int) {
	cookie, err := r.Cookie("seat" + c.Suffix)
	if err != nil {
		return "", 0
	}
	at := strings.LastIndexByte(cookie.Value, '.')
	if at < 0 || !hmac.Equal([]byte(cookie.Value[at+1:]), []byte(c.sign(cookie.Value[:at]))) {
		return "", 0
	}
	sheet, number, _ := strings.Cut(cookie.Value[:at], ".")
	device, err = strconv.Atoi(number)
	if err != nil {
		return "", 0
	}
	return sheet, device
}

// paired makes a phone the instructor's. It proves nothing to anybody but this very run of the program.
func (c Cookies) paired(w http.ResponseWriter, session string) {
	http.SetCookie(w, &http.Cookie{Name: "hand" + c.Suffix, Value: session, Path: web.HandPath, MaxAge: kept,
		HttpOnly: true, Secure: true, SameSite: http.SameSiteStrictMode})
}

func (c Cookies) hand(r *http.Request) string {
	cookie, err := r.Cookie("hand" + c.Suffix)
	if err != nil {
		return ""
	}
	return cookie.Value
}

func (c Cookies) waiting(w http.ResponseWriter, ticket string) { c.set(w, "wait", ticket, kept) }

func (c Cookies) ticket(r *http.Request) string {
	cookie, err := r.Cookie("wait" + c.Suffix)
	if err != nil {
		return ""
	}
	return cookie.Value
}
