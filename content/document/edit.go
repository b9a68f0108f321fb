package document

// EditText changes the running text of blocks in place, whatever holds it:
// every run of it that is not verbatim goes through edit.
func EditText(blocks []Block, edit func(string) string) {
	Inlines(blocks, func(text []Inline) { editInlines(text, edit) })
	walk(blocks, func(b *Block) {
		if f, ok := (*b).(Figure); ok {
			f.Alt = edit(f.Alt)
			*b = f
		}
	})
}

func editInlines(inlines []Inline, edit func(string) string) {
	for i, in := range inlines {
		switch in := in.(type) {
		case Text:
			if !in.Code {
				in.Value = edit(in.Value)
				inlines[i] = in
			}
		case Link:
			editInlines(in.Text, edit)
		}
	}
}
