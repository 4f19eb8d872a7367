package main

import (
	"encoding/json"
	"io"
	"reflect"
)

// writeJSON prints a value for another program. A list without anything in it is [], never null, so that a reader need
// not ask.
func writeJSON(out io.Writer, v any) error {
	full := reflect.New(reflect.TypeOf(v)).Elem()
	full.Set(reflect.ValueOf(v))
	fillLists(full)
	e := json.NewEncoder(out)
	e.SetIndent("", "  ")
	return e.Encode(full.Interface())
}

// fillLists makes empty lists of missing ones, in v and in whatever v leads to.
func fillLists(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fillLists(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillLists(v.Field(i))
		}
	case reflect.Array, reflect.Slice:
		if v.Kind() == reflect.Slice && v.IsNil() && v.CanSet() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := range v.Len() {
			fillLists(v.Index(i))
		}
	}
}
