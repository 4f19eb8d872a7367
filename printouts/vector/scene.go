package vector

// Scene is a complete drawing: shapes from back to front, then texts, and the same in words for whoever does not see
// it.
type Scene struct {
	Title       string
	Description string // one or two sentences
	Frame       Rect   // everything lies inside
	Shapes      []Shape
	Texts       []Text
}

// Shape is a line or an area.
type Shape struct {
	Path Path
	Pen  Pen
}

// Text is one line of text with the box it keeps free: level with the middle of the box, and in it to the left,
// centered or right by its style; turned text runs upwards from the foot of the box.
type Text struct {
	Text  string
	Box   Rect
	Width float64 // of the line, mm
	Style Style
}

// Place gives the point at which the text is fixed, as its style says.
func (t Text) Place() Point {
	at := Point{t.Box.X, t.Box.Y + t.Box.H/2}
	switch {
	case t.Style.Angle != 0:
		return Point{t.Box.X + t.Box.W/2, t.Box.Y + t.Box.H}
	case t.Style.Align == Center:
		at.X += t.Box.W / 2
	case t.Style.Align == Right:
		at.X += t.Box.W
	}
	return at
}

// Times is the scene in another size: places, lines and letters alike.
func (s Scene) Times(k float64) Scene {
	s.Frame = s.Frame.Times(k)
	shapes, texts := make([]Shape, len(s.Shapes)), make([]Text, len(s.Texts))
	for i, shape := range s.Shapes {
		path := make(Path, len(shape.Path))
		for j, step := range shape.Path {
			path[j] = Step{step.Kind, step.C1.Times(k), step.C2.Times(k), step.To.Times(k)}
		}
		shape.Path, shape.Pen.Width = path, shape.Pen.Width*k
		shapes[i] = shape
	}
	for i, text := range s.Texts {
		text.Box, text.Width = text.Box.Times(k), text.Width*k
		text.Style.Size *= k
		texts[i] = text
	}
	s.Shapes, s.Texts = shapes, texts
	return s
}
