package form

import (
	"fmt"
	"strconv"
	"strings"
)

// Reference is what a file may say, as Markdown: for each table of the file a
// heading and a table of its keys. The order is that of the key tables;
// variants are in the order of their names.
func Reference(root *Table) string {
	root.check("", nil)
	var b strings.Builder
	seen := map[*Table]string{}
	each(root, "", false, func(t *Table, path, by string, many bool) {
		heading := "top of the file"
		if path != "" {
			heading = "`" + brackets(path, many) + by + "`"
		}
		if b.Len() > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "### %s\n\n", heading)
		if first, ok := seen[t]; ok {
			fmt.Fprintf(&b, "As under %s.\n", first)
			return
		}
		seen[t] = heading
		if t.Help != "" {
			fmt.Fprintf(&b, "%s.\n\n", strings.TrimSuffix(t.Help, "."))
		}
		if len(t.Keys) == 0 {
			b.WriteString("No keys of its own.\n")
			return
		}
		b.WriteString("| key | takes | default | meaning |\n| --- | --- | --- | --- |\n")
		for i := range t.Keys {
			k := &t.Keys[i]
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", k.Name, cell(k.takes(t)), cell(k.otherwise()), cell(k.Help))
		}
	})
	return b.String()
}

func cell(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return strings.ReplaceAll(s, "|", `\|`)
}

// takes is what values the key takes.
func (k *Key) takes(t *Table) string {
	var s string
	of := kinds[kinds[k.Kind].of].name
	switch {
	case k.Kind == Word:
		s = Listed(quotes(k.choices(t)), "or")
	case k.Kind == Flag:
		s = "true or false"
	case k.Kind == Sub || k.Kind == Subs:
		s = kinds[k.Kind].name
	case kinds[k.Kind].of == k.Kind:
		s = of
	case k.Len > 0:
		s = "list of " + counted(k.Len, of)
	default:
		s = kinds[k.Kind].name
	}
	var bounds []string
	if k.Above != "" {
		bounds = append(bounds, "more than "+k.Above)
	}
	if k.Min != "" {
		bounds = append(bounds, k.Min+" or more")
	}
	if k.Max != "" {
		bounds = append(bounds, k.Max+" or less")
	}
	if k.Min != "" && k.Max != "" && k.Above == "" {
		bounds = []string{k.Min + " to " + k.Max}
	}
	if len(bounds) > 0 {
		s += ", " + strings.Join(bounds, ", ")
	}
	return s
}

// otherwise is what is taken where the file does not give the key.
func (k *Key) otherwise() string {
	switch {
	case k.Required:
		return "required"
	case k.Says != "":
		return k.Says
	case k.Kind == Text && k.Default != "":
		return strconv.Quote(k.Default)
	case k.Kind == Word && k.Default != "":
		return strconv.Quote(k.Default)
	case k.Default != "":
		return k.Default
	}
	return "none"
}
