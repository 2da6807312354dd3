package timeline

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// decodeAt decodes JSON and, if that fails, says which field did not fit. The
// path of the value itself stands before it.
func decodeAt(path string, data []byte, into any) error {
	err := json.Unmarshal(data, into)
	if err == nil {
		return nil
	}
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		line, column := linePosition(data, syntax.Offset)
		return fieldErr(path, "not valid JSON: line %d, column %d: %s", line, column, syntax)
	}
	deep, cause := locate(path, data, reflect.TypeOf(into).Elem())
	if cause == nil {
		cause = err
	}
	return fieldErr(deep, "%s", plainJSONError(cause))
}

// locate finds the innermost value that does not fit its type by decoding the
// parts one by one. It runs only after decoding the whole has failed.
func locate(path string, data []byte, t reflect.Type) (string, error) {
	err := json.Unmarshal(data, reflect.New(t).Interface())
	if err == nil {
		return "", nil
	}
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	var parts map[string]json.RawMessage
	var items []json.RawMessage
	switch t.Kind() {
	case reflect.Struct:
		if json.Unmarshal(data, &parts) != nil {
			return path, err
		}
		for _, name := range slices.Sorted(maps.Keys(parts)) {
			part := parts[name]
			if f, ok := jsonField(t, name); ok {
				if p, e := locate(joinPath(path, name), part, f); e != nil {
					return p, e
				}
			}
		}
	case reflect.Map:
		if json.Unmarshal(data, &parts) != nil {
			return path, err
		}
		for _, name := range slices.Sorted(maps.Keys(parts)) {
			if p, e := locate(joinPath(path, name), parts[name], t.Elem()); e != nil {
				return p, e
			}
		}
	case reflect.Slice, reflect.Array:
		if json.Unmarshal(data, &items) != nil {
			return path, err
		}
		for i, item := range items {
			if p, e := locate(fmt.Sprintf("%s[%d]", path, i), item, t.Elem()); e != nil {
				return p, e
			}
		}
	}
	return path, err
}

// jsonField returns the type of the field that encoding/json would fill.
func jsonField(t reflect.Type, name string) (reflect.Type, bool) {
	for _, f := range reflect.VisibleFields(t) {
		tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if tag != "-" && f.IsExported() && (strings.EqualFold(tag, name) || tag == "" && strings.EqualFold(f.Name, name)) {
			return f.Type, true
		}
	}
	return nil, false
}

func joinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// plainJSONError rewords errors of encoding/json that speak of Go types.
func plainJSONError(err error) string {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	want := "an object"
	switch k := wrong.Type.Kind(); {
	case k == reflect.String:
		want = "a text"
	case k == reflect.Bool:
		want = "true or false"
	case k >= reflect.Int && k <= reflect.Uint64:
		want = "a whole number in range"
	case k == reflect.Float32 || k == reflect.Float64:
		want = "a number"
	case k == reflect.Slice && wrong.Type.Elem().Kind() == reflect.Uint8:
		want = "a base64 text"
	case k == reflect.Slice || k == reflect.Array:
		want = "a list"
	}
	return fmt.Sprintf("found %s, want %s", wrong.Value, want)
}

// linePosition turns a byte offset into line and column, both from 1.
func linePosition(data []byte, offset int64) (line, column int) {
	head := data[:min(int64(len(data)), max(0, offset))]
	line = 1 + strings.Count(string(head), "\n")
	return line, max(1, len(head)-1-strings.LastIndexByte(string(head), '\n'))
}
